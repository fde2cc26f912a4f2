/** The output of sensing. Types only. */

/** `degraded`: usable with more uncertainty. `invalid`: no number may be shown or used. */
export type Quality = 'good' | 'degraded' | 'invalid';

/**
 * Why an estimate is not good; null when it is.
 * `not-weighed`: the milk was not weighed yet. `no-bottle`: no bottle in the sleeve. `roll`: the bottle is rolled so far that no cell feels the weight.
 * `cell`: a cell is silent or saturated. `accelerometer`: no direction of gravity. `motion`: shaken too hard.
 * `gap`: samples were lost or the chip was reset, and the bottle was not weighed since.
 * `sucks`: the milk of a suck is not known: sucks are too weak to be distinguished from other forces, so milk is spread evenly over time; or milk comes fast and
 * the baby began less than two minutes ago, or the flow's standard deviation is still large.
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
 * A sensor that does not agree with the others; the feed goes on without it. `late-cells`: the converters answer much later than usual, which is taken into account.
 * `motion-alone`: motions come repeatedly without the sample that they belong to; they are discarded.
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
  /** Time since the moment before, seconds: normally 0.05, more across a gap. */
  stepSec: number;
  /** Milk in the bottle, mL; null while unknown. */
  milkMl: number | null;
  milkSdMl: number | null;
  /** Milk that left with the teat in the mouth since the start, mL. May be corrected a little downward by a weighing. */
  intakeMl: number;
  /** 6 × (intake now − intake 10 s ago), both by the present estimate, ≥ 0; null while unknown. mL/min. */
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
  /** The count may be far off: sucks are weak, or a chewing jaw is counted as sucks. */
  sucksUncertain: boolean;
  lastSuckAtSec: number | null;
  buttonDown: boolean;
  quality: Quality;
  reason: QualityReason | null;
}

/**
 * An event found by sensing. `volumeMl` for spill and refill only; `bottleWasOut` where no bottle was in the sleeve meanwhile, so that it may have
 * been filled or exchanged.
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
  /** Quality of each row; absent in feeds that were read back from the store. */
  quality?: Quality[];
  teatInMouth: boolean[];
  totals: { intakeMl: number; spiltMl: number; addedMl: number };
  /** Starts of the sucks, seconds. */
  suckAtSec: number[];
  events: SensingEvent[];
}
