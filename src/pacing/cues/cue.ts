/** What pacing takes and gives. Types only; pacing knows neither sensing nor a clock nor RxJS. */

import type { CueKind } from './cues.ts';
import type { KeptReason, Reason } from './reason.ts';

export type { ContractCueKind, CueKind } from './cues.ts';
export type { ShownCue } from './shown-cues.ts';

/** The intake of the last seconds as known now, oldest first; a later correction moves all of it. The sender reuses it. */
export interface RecentIntake {
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
  recentIntake?: RecentIntake;
  /** Standard deviation of what was taken in the last seconds, mL; left out when it is exact. */
  doubtMl?: number;
  /** Milk in the bottle, mL; null while unknown. Left out: the bottle is never taken for empty. */
  milkMl?: number | null;
  /** Milk's surface over the nipple's hole, mm, below 0 when the hole is dry; null while unknown. Left out: nothing is said about it. */
  headMm?: number | null;
  /** Lowest tilt at which milk still covers the hole, degrees; null while unknown or when no tilt covers it. */
  coverTiltDeg?: number | null;
}

/** One cue as it fired, and why. */
export interface Cue {
  atSec: number;
  kind: CueKind;
  because: Reason;
}

/** One cue as kept. */
export type KeptCue = Omit<Cue, 'because'> & { because: KeptReason };
