/**
 * Whether gyroscope, accelerometer and cells agree; a fault is found within a feed and reported once, and the feed goes on without the faulty sensor.
 *
 * A gyroscope must show the turning that the accelerometer shows as a change of tilt (sleeve contract, section 1: θ̇ = ωx·sin(roll) − ωy·cos(roll)); with swapped axes or a wrong sign it does not.
 * An accelerometer at another place than in the calibration leaves a force proportional to the angular acceleration. Cells that are very late are found by the delay line.
 */
import { gramsFromNewtons, STANDARD_GRAVITY_MPS2 } from '../../base/units.ts';
import type { SensorFault } from '../moment.ts';

const WINDOW_SEC = 0.5;
/** Least amount of turning before a conclusion: sum of squared half-second changes of tilt, rad². */
const TURNED_RAD2 = 0.4;
const SLOPE = { least: 0.6, most: 1.4 } as const;
const LEAST_AGREEMENT = 0.7;
/** Near upright and straight down the roll is undefined. */
const ACROSS_LEAST = 0.4;
const STUCK_SAMPLES = 40;
/** Motions without a sample before this counts as a fault; each complete sample subtracts a part. A radio that loses 2 % stays far below. */
const ALONE_MOST = 20;
const ALONE_FORGIVEN = 0.08;
const SATURATED_COUNTS = 32767;
const SATURATED_SAMPLES = 8;
/** The accelerometer's place is wrong if it differs by this much, m, and by so many standard deviations. */
const PLACE_OFF_M = 0.04;
const PLACE_SDS = 4;
/** Neighboring blocks are correlated: this many count as one. */
const BLOCKS_ALIKE = 6;
const BAND_SEC = 0.3;
/** A converter settles in some 50 ms; cells later than this have a wrong setting, s. */
const LATE_SEC = 0.06;
const LATE_AFTER_SEC = 20;

export interface TurnCheck {
  /** The gyroscope's last counts, and number of samples for which they did not change or were saturated. */
  readonly counts: Int32Array;
  sameFor: number;
  saturatedFor: number;
  /** Count of motions without their sample, decaying with complete samples. */
  alone: number;
  /** Turning in half a second by the gyroscope and by the tilt, rad. */
  windowSec: number;
  byGyroscope: number;
  tiltAtStart: number;
  squaresG: number;
  squaresT: number;
  products: number;
  /** Regression of the force left over on angular acceleration, both high-pass filtered. */
  slowForce: number;
  slowTurn: number;
  forceTurn: number;
  turnTurn: number;
  forceForce: number;
  seconds: number;
  readonly told: Set<SensorFault>;
}

export const createTurnCheck = (): TurnCheck => ({
  counts: new Int32Array(3),
  sameFor: 0,
  saturatedFor: 0,
  alone: 0,
  windowSec: 0,
  byGyroscope: 0,
  tiltAtStart: Number.NaN,
  squaresG: 0,
  squaresT: 0,
  products: 0,
  slowForce: 0,
  slowTurn: 0,
  forceTurn: 0,
  turnTurn: 0,
  forceForce: 0,
  seconds: 0,
  told: new Set(),
});

/** Counts of one sample. @returns a fault that is found for the first time, else null */
export function checkCounts(check: TurnCheck, counts: readonly [number, number, number]): SensorFault | null {
  const { counts: last } = check;
  const same = counts[0] === last[0] && counts[1] === last[1] && counts[2] === last[2];
  const end = Math.max(Math.abs(counts[0]), Math.abs(counts[1]), Math.abs(counts[2]));
  check.sameFor = same ? check.sameFor + 1 : 0;
  check.saturatedFor = end >= SATURATED_COUNTS ? check.saturatedFor + 1 : 0;
  check.alone = Math.max(0, check.alone - ALONE_FORGIVEN);
  for (let i = 0; i < 3; i++) last[i] = counts[i]!;
  if (check.sameFor >= STUCK_SAMPLES) return tell(check, 'gyroscope-stuck');
  if (check.saturatedFor >= SATURATED_SAMPLES) return tell(check, 'gyroscope-saturated');
  return null;
}

/** A motion without its sample. @returns as above */
export function checkLoneMotion(check: TurnCheck): SensorFault | null {
  check.alone += 1;
  return check.alone >= ALONE_MOST ? tell(check, 'motion-alone') : null;
}

/** A block: rates in rad/s, roll and tilt of the felt force in rad, its share across the axis. @returns as above */
export function checkTurning(
  check: TurnCheck,
  stepSec: number,
  turnX: number,
  turnY: number,
  tiltRad: number,
  rollRad: number,
): SensorFault | null {
  if (Math.sin(tiltRad) < ACROSS_LEAST || Number.isNaN(check.tiltAtStart)) {
    check.tiltAtStart = tiltRad;
    check.windowSec = 0;
    check.byGyroscope = 0;
    return null;
  }
  check.byGyroscope += (turnX * Math.sin(rollRad) - turnY * Math.cos(rollRad)) * stepSec;
  check.windowSec += stepSec;
  if (check.windowSec < WINDOW_SEC) return null;
  const byTilt = tiltRad - check.tiltAtStart;
  check.squaresG += check.byGyroscope ** 2;
  check.squaresT += byTilt ** 2;
  check.products += check.byGyroscope * byTilt;
  check.tiltAtStart = tiltRad;
  check.windowSec = 0;
  check.byGyroscope = 0;
  if (check.squaresT < TURNED_RAD2) return null;
  const slope = check.products / check.squaresT;
  const agreement = check.products ** 2 / Math.max(1e-12, check.squaresG * check.squaresT);
  const fits = slope > SLOPE.least && slope < SLOPE.most && agreement > LEAST_AGREEMENT;
  return fits ? null : tell(check, 'gyroscope-disagrees');
}

/**
 * A block with a usable gyroscope.
 * @param forceN force left over across the axis; @param hangingGrams mass in the sleeve; @param angularRadPerSec2 angular acceleration
 */
export function checkPlace(
  check: TurnCheck,
  stepSec: number,
  forceN: number,
  hangingGrams: number,
  angularRadPerSec2: number,
): SensorFault | null {
  const force = gramsFromNewtons(forceN);
  const turn = (hangingGrams * angularRadPerSec2) / STANDARD_GRAVITY_MPS2;
  const gain = Math.min(1, stepSec / BAND_SEC);
  check.slowForce += (force - check.slowForce) * gain;
  check.slowTurn += (turn - check.slowTurn) * gain;
  const fastForce = force - check.slowForce;
  const fastTurn = turn - check.slowTurn;
  check.forceTurn += fastForce * fastTurn;
  check.turnTurn += fastTurn * fastTurn;
  check.forceForce += fastForce * fastForce;
  check.seconds += stepSec;
  if (check.seconds < LATE_AFTER_SEC || check.turnTurn <= 0) return null;
  const offM = check.forceTurn / check.turnTurn;
  const left = Math.max(0, check.forceForce - offM * check.forceTurn);
  const blocks = check.seconds / stepSec;
  const sdM = Math.sqrt((BLOCKS_ALIKE * left) / blocks / check.turnTurn);
  return Math.abs(offM) > Math.max(PLACE_OFF_M, PLACE_SDS * sdM) ? tell(check, 'accelerometer-place') : null;
}

/** @param lateSec delay of the cells by the delay line; @param identifiedSec time over which it was identified */
export const checkDelay = (check: TurnCheck, lateSec: number, identifiedSec: number): SensorFault | null =>
  lateSec > LATE_SEC && identifiedSec > LATE_AFTER_SEC ? tell(check, 'late-cells') : null;

function tell(check: TurnCheck, fault: SensorFault): SensorFault | null {
  if (check.told.has(fault)) return null;
  check.told.add(fault);
  return fault;
}

/** True while the gyroscope may be used. */
export const gyroscopeFits = ({ told, saturatedFor }: TurnCheck): boolean =>
  saturatedFor === 0 &&
  !told.has('gyroscope-stuck') &&
  !told.has('gyroscope-saturated') &&
  !told.has('gyroscope-disagrees') &&
  !told.has('accelerometer-place');
