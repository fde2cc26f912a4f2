/** What sensing says, in the words the rest of the house uses. Types only. */

/** `degraded`: usable with more uncertainty. `invalid`: no number may be shown or acted on. */
export type Quality = 'good' | 'degraded' | 'invalid';

/**
 * Why an estimate is not good; null when it is.
 * `not-weighed`: milk was never weighed yet. `no-bottle`: the sleeve holds none. `roll`: the bottle is turned so far that no cell feels the weight.
 * `cell`: a cell is silent or saturated. `accelerometer`: no direction of gravity. `motion`: shaken too hard.
 * `gap`: samples were lost or the chip was reset, and nothing was weighed since.
 * `sucks`: it is not known what a suck gives: sucks are too faint to be told from the mouth's push, so milk is placed by time; or milk comes fast and
 * the baby began less than two minutes ago.
 * `push`: something presses on the bottle beside the teat's tip, or the mouth does.
 */
export type QualityReason =
  | 'not-weighed'
  | 'no-bottle'
  | 'roll'
  | 'cell'
  | 'accelerometer'
  | 'motion'
  | 'gap'
  | 'sucks'
  | 'push';

/**
 * What does not fit in the sleeve; the feed goes on without it. `late-cells`: their converters are set to answer much later than usual, which is taken into account.
 * `motion-alone`: turnings come again and again without the sample that they belong to, and are left out.
 */
export type SensorFault =
  | 'gyroscope-stuck'
  | 'gyroscope-saturated'
  | 'gyroscope-disagrees'
  | 'accelerometer-place'
  | 'late-cells'
  | 'motion-alone';

/** One row of the live estimate, every 50 ms of device time (four samples). */
export interface SensedMoment {
  /** Device time since the first accepted sample, seconds. */
  atSec: number;
  /** Time since the moment before, seconds: 0.05 as a rule, more across a gap. */
  stepSec: number;
  /** Milk in the bottle, mL; null while unknown. */
  milkMl: number | null;
  milkSdMl: number | null;
  /** Milk that left with the teat in the mouth since the start, mL. May be corrected a little downward by a weighing. */
  intakeMl: number;
  /** 6 × (intake now − intake 10 s ago), both as known now, ≥ 0; null while unknown. mL/min. */
  flowMlPerMin: number | null;
  flowSdMlPerMin: number | null;
  /** Milk that left with the teat out, and milk poured in, mL. */
  spiltMl: number;
  addedMl: number;
  teatInMouth: boolean;
  /** Angle of the bottle's axis from up, degrees: 0 upright, 90 level, 180 teat down. */
  tiltDeg: number;
  /** Turn about the bottle's axis, degrees; 0 with the grip underneath. */
  rollDeg: number;
  /** Force of the mouth on the bottle, N: across (lifting > 0) and along (suction > 0). */
  mouthForceXN: number;
  mouthForceZN: number;
  /** Sucks seen since the start, and when the latest began; null before the first. */
  suckCount: number;
  /** The count may be far off: sucks are faint, or a chewing jaw makes some that are none. */
  sucksUncertain: boolean;
  lastSuckAtSec: number | null;
  buttonDown: boolean;
  quality: Quality;
  reason: QualityReason | null;
}

/**
 * Something that happened, found by sensing. `volumeMl` for spill and refill only; `bottleWasOut` where the sleeve held no bottle
 * meanwhile: it may have been filled, or be another one.
 */
export type SensingEvent =
  | { kind: 'teat-in' | 'teat-out'; atSec: number }
  | { kind: 'spill' | 'refill'; atSec: number; volumeMl: number; bottleWasOut?: boolean }
  | { kind: 'chip-reset'; atSec: number }
  | { kind: 'sensor-fault'; atSec: number; fault: SensorFault }
  | { kind: 'samples-lost'; atSec: number; count: number };

/** The best estimate after the feed, columns of equal length; numbers null where unknown. */
export interface RefinedFeed {
  atSec: number[];
  milkMl: (number | null)[];
  flowMlPerMin: (number | null)[];
  /** Standard deviation of the flow, mL/min; absent in feeds refined before it was kept. */
  flowSdMlPerMin?: (number | null)[];
  /** Running intake, mL. */
  intakeMl: number[];
  milkSdMl: (number | null)[];
  /** How far each row may be believed; absent in feeds that were read back from the store. */
  quality?: Quality[];
  teatInMouth: boolean[];
  totals: { intakeMl: number; spiltMl: number; addedMl: number };
  /** Starts of the sucks, seconds. */
  suckAtSec: number[];
  events: SensingEvent[];
}
