/**
 * The mouth at the teat: whether it is there, and when it sucks.
 *
 * In: the force left over after bottle and milk are subtracted, N. The teat counts as in the mouth when that force along the axis stays above a
 * threshold, and as out when it stays below or stops changing; a hand on the side of the bottle pushes across the axis and is not counted as a
 * mouth. A suck is a rise of the pull along the axis that falls again by half.
 * Thresholds were set on simulated feeds (suction 0.9 N, chewing 0.25 N); a built sleeve may move them.
 */

export const MOUTH = {
  /** Force along the axis that counts as a mouth, forces that count as none, and the margin for a restless hand, N. */
  latchN: 0.08,
  releaseN: 0.06,
  perMotionN: 0.01,
  forceSmoothingSec: 0.15,
  baselineSec: 3,
  baselineLimitN: 0.1,
  latchSec: 0.25,
  releaseSec: 0.6,
  /** A force that has not changed for this long is a drifted zero, not a mouth. */
  stillSec: 1,
  stillForceN: 0.12,
  stillMoveN: 0.003,
  stillMovePerMotionN: 0.004,
  suckSmoothingSec: 0.04,
  suckWindowSec: 0.6,
  suckMinRiseN: 0.08,
  suckMaxRiseN: 0.45,
  suckRiseShare: 0.4,
  suckMinIntervalSec: 0.45,
  suckMaxSec: 1,
  /** Rises smaller than this cannot be distinguished from other forces of the mouth; nor can rises that differ by more than this share of their mean. */
  faintN: 0.3,
  unevenShare: 0.2,
  /** If the teat is in for this long without a detected suck, and there were fewer than this since the start, sucks are too weak to be seen; one or two may be the latch. */
  unseenSec: 8,
  seenSucks: 3,
  /** Share of a suck's period in which its milk comes. */
  suckFlowShare: 0.58,
} as const;

export const WINDOW_SLOTS = 48;

export interface MouthState {
  inMouth: boolean;
  /** Smoothed force minus baseline, N. */
  forceX: number;
  forceZ: number;
  baseX: number;
  baseZ: number;
  /** A force acts that may be a mouth's, so the bottle is not weighed, whatever is concluded later. */
  touched: boolean;
  /** Nothing pulls, so the bottle may be weighed. */
  quiet: boolean;
  beyondSec: number;
  withinSec: number;
  stillSec: number;
  slowX: number;
  slowZ: number;
  moveX: number;
  moveZ: number;
  suckPull: number;
  window: Float64Array;
  windowAt: number;
  suckAmplitudeN: number;
  suckPeriodSec: number;
  /** Spread of the rises as a share of their mean; and time with the teat in without a suck, seconds. */
  suckUneven: number;
  sucklessSec: number;
  sucking: boolean;
  suckRise: number;
  suckFloor: number;
  suckTop: number;
  suckStartSec: number;
  suckCount: number;
  lastSuckAtSec: number;
  /** Sucks whose milk is still to be delivered, in units of one suck. */
  owedSucks: number;
}

export function createMouth(): MouthState {
  return {
    inMouth: false,
    forceX: 0,
    forceZ: 0,
    baseX: 0,
    baseZ: 0,
    touched: false,
    quiet: true,
    beyondSec: 0,
    withinSec: 0,
    stillSec: 0,
    slowX: 0,
    slowZ: 0,
    moveX: 0,
    moveZ: 0,
    suckPull: 0,
    window: new Float64Array(WINDOW_SLOTS),
    windowAt: 0,
    suckAmplitudeN: 0.5,
    suckPeriodSec: 1,
    suckUneven: 0,
    sucklessSec: 0,
    sucking: false,
    suckRise: 0,
    suckFloor: 0,
    suckTop: 0,
    suckStartSec: Number.NEGATIVE_INFINITY,
    suckCount: 0,
    lastSuckAtSec: Number.NEGATIVE_INFINITY,
    owedSucks: 0,
  };
}

/**
 * One block's mouth force, about 20 times a second. `motion` is 1 for the usual restlessness.
 * `known` is false while a cell or the accelerometer fails: the state does not change then.
 */
export function trackMouth(
  mouth: MouthState,
  forceXN: number,
  forceZN: number,
  stepSec: number,
  motion: number,
  known: boolean,
): void {
  if (!known) {
    mouth.quiet = false;
    mouth.touched = true;
    return;
  }
  const threshold = MOUTH.latchN + MOUTH.perMotionN * motion;
  const none = MOUTH.releaseN + MOUTH.perMotionN * motion;
  const x = forceXN - mouth.baseX;
  const z = forceZN - mouth.baseZ;
  const gain = Math.min(1, stepSec / MOUTH.forceSmoothingSec);
  mouth.forceX += (x - mouth.forceX) * gain;
  mouth.forceZ += (z - mouth.forceZ) * gain;

  const slow = Math.min(1, stepSec / 0.5);
  const fast = Math.min(1, stepSec / 0.4);
  mouth.slowX += (forceXN - mouth.slowX) * slow;
  mouth.slowZ += (forceZN - mouth.slowZ) * slow;
  mouth.moveX += (Math.abs(forceXN - mouth.slowX) - mouth.moveX) * fast;
  mouth.moveZ += (Math.abs(forceZN - mouth.slowZ) - mouth.moveZ) * fast;
  const move = MOUTH.stillMoveN + MOUTH.stillMovePerMotionN * motion;
  const still =
    mouth.moveX < move &&
    mouth.moveZ < move &&
    Math.abs(mouth.forceX) < MOUTH.stillForceN &&
    Math.abs(mouth.forceZ) < MOUTH.stillForceN;
  mouth.stillSec = still ? mouth.stillSec + stepSec : 0;

  const smoothX = Math.abs(mouth.forceX);
  const smoothZ = Math.abs(mouth.forceZ);
  if (mouth.inMouth) {
    mouth.withinSec = smoothX < none && smoothZ < none ? mouth.withinSec + stepSec : 0;
    if (mouth.withinSec >= MOUTH.releaseSec || mouth.stillSec >= MOUTH.stillSec) {
      mouth.inMouth = false;
      mouth.beyondSec = 0;
      mouth.owedSucks = 0;
    }
  } else {
    mouth.beyondSec = smoothZ > threshold && mouth.stillSec === 0 ? mouth.beyondSec + stepSec : 0;
    if (mouth.beyondSec >= MOUTH.latchSec) {
      mouth.inMouth = true;
      mouth.withinSec = 0;
      mouth.stillSec = 0;
    }
  }
  mouth.quiet = !mouth.inMouth && smoothX < threshold && smoothZ < threshold;
  mouth.touched = Math.abs(x) > none || Math.abs(z) > none;
  if (mouth.quiet || (!mouth.inMouth && mouth.stillSec >= MOUTH.stillSec)) {
    const learn = Math.min(1, stepSec / MOUTH.baselineSec);
    const limit = MOUTH.baselineLimitN;
    mouth.baseX = Math.min(limit, Math.max(-limit, mouth.baseX + (forceXN - mouth.baseX) * learn));
    mouth.baseZ = Math.min(limit, Math.max(-limit, mouth.baseZ + (forceZN - mouth.baseZ) * learn));
  }
}

/** The teat is known to be out: the force so far becomes the baseline. */
export function freeMouth(mouth: MouthState): void {
  mouth.inMouth = false;
  mouth.quiet = true;
  mouth.forceX = 0;
  mouth.forceZ = 0;
  mouth.baseX = 0;
  mouth.baseZ = 0;
  mouth.beyondSec = 0;
  mouth.withinSec = 0;
  mouth.owedSucks = 0;
  mouth.sucking = false;
}
