/** What pacing takes and gives. Types only; pacing knows neither sensing nor a clock nor RxJS. */

/** Kinds fixed by the sleeve contract, section 6. */
export type ContractCueKind = 'tilt-down' | 'burp' | 'switch-side' | 'offer-stop';

/** Kinds of our own, only with a family's guidance. */
export type AddedCueKind =
  /** Many sucks without a pause; off unless turned on. */
  | 'breath-pause'
  /** The bottle is held steeper than the hole needs; the hole is dry while baby sucks. */
  | 'lower-is-fine'
  | 'hole-dry'
  /** Long active sucking that brings little milk: nipple or vent. */
  | 'little-coming'
  | 'long-feed'
  /** A newborn's sucking faded early: no fullness is said. */
  | 'asleep-early'
  /** After the feed, silent. */
  | 'hold-upright'
  | 'hunger-again';

export type CueKind = ContractCueKind | AddedCueKind;

/** What can be shown of the cues: `keep-low` is a `tilt-down` that came again because milk kept pouring, `last-burp` a `burp` with the bottle empty. */
export type ShownCue = CueKind | 'keep-low' | 'last-burp';

/** The intake of the last seconds as known now, oldest first; a later correction moves all of it. The sender reuses it. */
export interface IntakeTrail {
  count: number;
  readonly atSec: Float64Array;
  readonly intakeMl: Float64Array;
}

/** What pacing needs to know, each step, 20 times a second or more. */
export interface PacingInput {
  atSec: number;
  /** Time since the step before, seconds, > 0. */
  stepSec: number;
  /** Running intake, mL; may be corrected a little downward. */
  intakeMl: number;
  teatInMouth: boolean;
  tiltDeg: number;
  suckCount: number;
  lastSuckAtSec: number | null;
  /**
   * How good the estimate is, whatever the reason. `degraded`: "too fast" comes only well beyond doubt, and hints wait.
   * `none`: it must not be acted on; cues are withheld, buckets only drain.
   */
  quality: 'good' | 'degraded' | 'none';
  buttonDown: boolean;
  /** Left out when the intake is never corrected. */
  trail?: IntakeTrail;
  /** Standard deviation of what was taken in the last seconds, mL; left out when it is exact. */
  doubtMl?: number;
  /** Milk in the bottle, mL; null while unknown. Left out: the bottle is never taken for empty. */
  milkMl?: number | null;
  /** Milk's surface over the nipple's hole, mm, below 0 when the hole is dry; null while unknown. Left out: nothing is said about it. */
  headMm?: number | null;
  /** Lowest tilt at which milk still covers the hole, degrees; null while unknown or when no tilt covers it. */
  coverTiltDeg?: number | null;
}

/** One cue as it fired. `because` says why in one plain line, with the numbers. */
export interface Cue {
  atSec: number;
  kind: CueKind;
  because: string;
}
