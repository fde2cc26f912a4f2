/** What other rooms may import from pacing. */
export type { Cue, CueKind, PacingInput, ShownCue } from './cues/cue.ts';
export { LANGUAGES, type Language, type ShownWords, WORDS, type WordKey, type Words } from './cues/words.ts';
export { becauseText } from './cues/words-because.ts';
export { BARE_GUIDANCE, type BurpHabit, FAMILY_GUIDANCE, type Guidance } from './guidance.ts';
export { createPacing, noteBurped, type PacingState, type PacingStep, stepPacing } from './pacing.ts';
export { checkPaceProfile, type PaceProfile } from './profile/profile.ts';
export {
  BREAST_MINUTES_RANGE,
  type PaceWishes,
  type ScaledProfile,
  type Strictness,
  scaledProfile,
  USUAL_FEED_RANGE_ML,
} from './profile/scaled-profile.ts';
export { SHIPPED_PROFILE } from './profile/shipped-profile.ts';
export { type OwnFeed, ownFeedCurve } from './rules/own-feed.ts';
export { type FeedNeed, type QuietLevel, quietLevel } from './rules/quiet-level.ts';
export {
  type ClinicianPlan,
  type CuePermission,
  cuePermission,
  isScreeningOpen,
  SCREENING,
  type Screened,
  type ScreeningAnswers,
  screened,
  type WhoDrinks,
} from './screening.ts';
export {
  type Technique,
  type TechniqueMarks,
  type TechniqueRow,
  techniqueOf,
  techniqueWords,
} from './technique.ts';
