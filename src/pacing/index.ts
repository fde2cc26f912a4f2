/** The doors of pacing. */
export type { Cue, CueKind, PacingInput, ShownCue } from './cue.ts';
export { BARE_GUIDANCE, type BurpHabit, FAMILY_GUIDANCE, type Guidance } from './guidance.ts';
export { type OwnFeed, ownFeedCurve } from './own-feed.ts';
export { createPacing, noteBurped, type PacingState, type PacingStep, stepPacing } from './pacing.ts';
export { checkPaceProfile, type PaceProfile, paceProfileRows } from './profile.ts';
export { type FeedNeed, type QuietLevel, quietLevel } from './quiet-level.ts';
export {
  BREAST_MINUTES_RANGE,
  type PaceWishes,
  type ScaledProfile,
  type Strictness,
  scaledProfile,
  USUAL_FEED_RANGE_ML,
} from './scaled-profile.ts';
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
export { SHIPPED_PROFILE } from './shipped-profile.ts';
export {
  type Technique,
  type TechniqueMarks,
  type TechniqueRow,
  techniqueOf,
  techniqueWords,
} from './technique.ts';
export { LANGUAGES, type Language, type ShownWords, WORDS, type WordKey, type Words } from './words.ts';
export { becauseText } from './words-because.ts';
