/**
 * Milk that is added or lost with the teat out: spilt, poured in, another bottle. Pure steps on one small state.
 *
 * A change is a weight that contradicts the estimate by more than hand and scale explain. It is not looked for just after a release, when the milk is known only to some grams, nor while
 * the bottle swings. During a change the milk is weighed anew; the event is recorded when the bottle has settled and the difference is still there.
 */
import type { SensingEvent } from '../moment.ts';

export interface ChangeState {
  /** Weight and balance both say that the mass is changing. */
  changing: boolean;
  /** The sleeve holds no bottle: it weighs far less than an empty one. */
  bottleOut: boolean;
  /** The bottle was out of the sleeve at some time during the open change. */
  bottleWasOut: boolean;
  /** Milk noise while changing, g per √s. */
  walkGrams: number;
  alongGrams: number;
  besideGrams: number;
  balanceGrams: number;
  /** For how long the weight has contradicted the estimate, and `bottleOut`. */
  amissSec: number;
  /** Time since the bottle was last swung, seconds. */
  swungSec: number;
  contradictedSec: number;
  /** An open change: the milk before it, when it began, and for how long nothing has moved. */
  open: boolean;
  beforeMl: number;
  beganSec: number;
  calmSec: number;
  /** Milk one to two seconds ago, from before the change moved the estimate. */
  earlierMl: number;
  recentMl: number;
  recentSec: number;
  spiltMl: number;
  addedMl: number;
}

const SMOOTH_SEC = 0.4;
const CHANGE_WALK_GRAMS = 12;
/** A weight contradicts beyond this, g: scatter of a smoothed weight in a calm hand, and what a restless hand adds. Own figures. */
const AMISS_GRAMS = 0.8;
const AMISS_PER_MOTION_GRAMS = 0.9;
/** The same as a multiple of the standard deviation. */
const AMISS_SDS = 3.5;
const AMISS_SEC = 0.4;
const STILL_AMISS_SHARE = 0.4;
/** After a swing the weight is not used for this long. */
const SWUNG_SEC = 0.5;
/** Lighter than the empty bottle by this: it is not in the sleeve. */
const BOTTLE_OUT_GRAMS = 15;
const BOTTLE_OUT_SEC = 0.5;
const SETTLE_SEC = 1.5;
/** A smaller change cannot be distinguished from hands on the bottle. */
const LEAST_EVENT_ML = 1.5;
/** Below this arm the balance cannot confirm what the weight says. */
const CONFIRMING_ARM = 0.3;

export const createChange = (): ChangeState => ({
  changing: false,
  bottleOut: false,
  bottleWasOut: false,
  walkGrams: CHANGE_WALK_GRAMS,
  alongGrams: 0,
  besideGrams: 0,
  balanceGrams: 0,
  amissSec: 0,
  swungSec: SWUNG_SEC,
  contradictedSec: 0,
  open: false,
  beforeMl: 0,
  beganSec: 0,
  calmSec: 0,
  earlierMl: Number.NaN,
  recentMl: Number.NaN,
  recentSec: 0,
  spiltMl: 0,
  addedMl: 0,
});

/** Differences between measured and expected weight in one block. */
export interface WeightError {
  stepSec: number;
  /** Estimated milk, g, and variance of a weighing, g². */
  milkGrams: number;
  knownVariance: number;
  /** Measured − expected mass along the felt force, and force across it, which milk cannot cause, g. */
  alongGrams: number;
  besideGrams: number;
  /** Measured − expected balance, g at arm 1, and the arm. */
  balanceGrams: number;
  arm: number;
  /** Restlessness of the hand, 1 = usual; and whether the bottle turns so fast that it swings. */
  motion: number;
  swinging: boolean;
  inMouth: boolean;
}

/** Evaluates one block. */
export function judgeChange(change: ChangeState, error: WeightError): void {
  const { stepSec, motion, inMouth } = error;
  change.swungSec = error.swinging ? 0 : change.swungSec + stepSec;
  const gain = Math.min(1, stepSec / SMOOTH_SEC);
  change.alongGrams += (error.alongGrams - change.alongGrams) * gain;
  change.besideGrams += (error.besideGrams - change.besideGrams) * gain;
  change.balanceGrams += (error.balanceGrams - change.balanceGrams) * gain;
  const along = change.alongGrams;
  const confirmed =
    Math.abs(error.arm) < CONFIRMING_ARM || along * (change.balanceGrams / error.arm) > 0.4 * along * along;
  const scatter = AMISS_GRAMS + AMISS_PER_MOTION_GRAMS * motion;
  // During a change the variance of the milk is enlarged on purpose, so the change lasts until the weight agrees again.
  const beyond = change.changing
    ? STILL_AMISS_SHARE * scatter
    : Math.max(scatter, AMISS_SDS * Math.sqrt(error.knownVariance));
  const amiss =
    !inMouth &&
    change.swungSec >= SWUNG_SEC &&
    Math.abs(along) > beyond &&
    Math.abs(change.besideGrams) < 3 + 2 * motion &&
    (confirmed || change.changing);
  change.amissSec = amiss ? change.amissSec + stepSec : 0;
  change.changing = change.amissSec >= AMISS_SEC || (change.changing && amiss);
  // The larger the difference, the larger the noise, so that a changed bottle is weighed anew at once.
  change.walkGrams = CHANGE_WALK_GRAMS + Math.abs(along);

  const out = error.milkGrams + along < (change.bottleOut ? -BOTTLE_OUT_GRAMS / 2 : -BOTTLE_OUT_GRAMS);
  change.contradictedSec = out === change.bottleOut ? 0 : change.contradictedSec + stepSec;
  if (change.contradictedSec >= BOTTLE_OUT_SEC && (change.bottleOut || !inMouth)) {
    change.bottleOut = out;
    change.contradictedSec = 0;
  }
}

/** Records a change once it has settled. @returns the event, else null. Milk is the filter's, mL. */
export function trackChange(
  change: ChangeState,
  atSec: number,
  stepSec: number,
  milkMl: number,
  inMouth: boolean,
): SensingEvent | null {
  change.bottleWasOut ||= change.bottleOut;
  if (change.changing) {
    if (!change.open) {
      change.open = true;
      change.beforeMl = Number.isNaN(change.earlierMl) ? milkMl : change.earlierMl;
      change.beganSec = atSec;
    }
    change.calmSec = 0;
    return null;
  }
  if (!change.open) {
    change.bottleWasOut = change.bottleOut;
    change.recentSec += stepSec;
    if (change.recentSec < 1) return null;
    change.recentSec = 0;
    change.earlierMl = change.recentMl;
    change.recentMl = milkMl;
    return null;
  }
  change.calmSec += stepSec;
  // With the teat in, the bottle cannot be weighed, so the change keeps its last value.
  if ((change.calmSec < SETTLE_SEC && !inMouth) || change.bottleOut) return null;
  change.open = false;
  const { bottleWasOut } = change;
  change.bottleWasOut = false;
  const grown = milkMl - change.beforeMl;
  change.earlierMl = milkMl;
  change.recentMl = milkMl;
  if (Math.abs(grown) < LEAST_EVENT_ML) return null;
  if (grown > 0) change.addedMl += grown;
  else change.spiltMl -= grown;
  return {
    kind: grown > 0 ? 'refill' : 'spill',
    atSec: change.beganSec,
    volumeMl: Math.abs(grown),
    ...(bottleWasOut && { bottleWasOut }),
  };
}
