/** The doors of pacing. */
export type { Cue, CueKind, PacingInput } from './cue.ts';
export { createPacing, noteBurped, type PacingState, type PacingStep, stepPacing } from './pacing.ts';
export { checkPaceProfile, type PaceProfile, paceProfileRows } from './profile.ts';
export { SHIPPED_PROFILE } from './shipped-profile.ts';
export { LANGUAGES, type Language, type ShownWords, WORDS, type WordKey, type Words } from './words.ts';
