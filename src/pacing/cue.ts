/** What pacing takes and gives. Types only; pacing knows neither sensing nor a clock nor RxJS. */

/** Kinds fixed by the sleeve contract, section 6. */
export type CueKind = 'tilt-down' | 'burp' | 'switch-side' | 'offer-stop';

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
  /** False while the estimate must not be acted on: cues are withheld, buckets only drain. */
  trusted: boolean;
  buttonDown: boolean;
  /** Left out when the intake is never corrected. */
  trail?: IntakeTrail;
  /** Standard deviation of what was taken in the last seconds, mL; left out when it is exact. */
  doubtMl?: number;
}

/** One cue as it fired. `because` says why in one plain line, with the numbers. */
export interface Cue {
  atSec: number;
  kind: CueKind;
  because: string;
}
