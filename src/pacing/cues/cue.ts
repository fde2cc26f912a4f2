/** Input and output of pacing. Types only; pacing knows neither sensing nor a clock nor RxJS. */

import type { CueKind } from './cues.ts';
import type { KeptReason, Reason } from './reason.ts';

export type { ContractCueKind, CueKind } from './cues.ts';
export type { ShownCue } from './shown-cues.ts';

/** The intake of the last seconds by the present estimate, oldest first; each correction may change all of it. The arrays are reused by the sender. */
export interface RecentIntake {
  count: number;
  readonly atSec: Float64Array;
  readonly intakeMl: Float64Array;
  /** Standard deviation of all that was taken since the start, mL; left out when it is exact. */
  sdMl?: number;
}

/** Input of one step; 20 steps a second or more. */
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
   * Quality of the estimate. `degraded`: "too fast" comes only well beyond doubt, and hints wait. `none`: the estimate must not be used; no cue
   * is shown, and the buckets only drain.
   */
  quality: 'good' | 'degraded' | 'none';
  buttonDown: boolean;
  /** Left out when the intake is never corrected. */
  recentIntake?: RecentIntake;
  /** Standard deviation of the intake of the last seconds, mL; left out when it is exact. */
  doubtMl?: number;
  /** Milk in the bottle, mL; null while unknown. Left out: the bottle never counts as empty. */
  milkMl?: number | null;
  /** Milk's surface over the nipple's hole, mm, below 0 when the hole is dry; null while unknown. Left out: no cue depends on it. */
  headMm?: number | null;
  /** Lowest tilt at which milk still covers the hole, degrees; null while unknown or when no tilt covers it. */
  coverTiltDeg?: number | null;
}

/** A cue that fired, and its reason. */
export interface Cue {
  atSec: number;
  kind: CueKind;
  because: Reason;
}

/** A cue as stored. */
export type KeptCue = Omit<Cue, 'because'> & { because: KeptReason };
