/** Milk that comes or goes with the teat out: spilt, poured in, another bottle. Pure steps on one small state. */
import type { SensingEvent } from './moment.ts';

export interface ChangeState {
  /** Weight and balance together say now that the mass changes. */
  changing: boolean;
  /** The sleeve holds no bottle: it weighs far less than an empty one. */
  bottleOut: boolean;
  /** Milk noise while changing, g per √s. */
  walkGrams: number;
  alongGrams: number;
  besideGrams: number;
  balanceGrams: number;
  /** For how long the weight has contradicted `bottleOut`. */
  contradictedSec: number;
  /** An open change: milk before it, when it began, and for how long nothing has moved since. */
  open: boolean;
  beforeMl: number;
  beganSec: number;
  calmSec: number;
  /** Milk one to two seconds ago: the first moments of a change move the estimate before they are recognised. */
  earlierMl: number;
  recentMl: number;
  recentSec: number;
  spiltMl: number;
  addedMl: number;
}

const SMOOTH_SEC = 0.3;
const CHANGE_WALK_GRAMS = 12;
/** So much lighter than the empty bottle: it is not in the sleeve. */
const BOTTLE_OUT_GRAMS = 15;
const BOTTLE_OUT_SEC = 0.5;
const SETTLE_SEC = 1.5;
/** A smaller change is not told from hands on the bottle. */
const LEAST_EVENT_ML = 2;

export const createChange = (): ChangeState => ({
  changing: false,
  bottleOut: false,
  walkGrams: CHANGE_WALK_GRAMS,
  alongGrams: 0,
  besideGrams: 0,
  balanceGrams: 0,
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

/**
 * Judges one block.
 * @param milkGrams milk as the filter has it
 * @param alongGrams measured − expected mass along the felt force
 * @param besideGrams force across it, which no milk explains
 * @param balanceError measured − expected balance, g at arm 1
 * @param arm balance reading per gram
 */
export function judgeChange(
  change: ChangeState,
  milkGrams: number,
  alongGrams: number,
  besideGrams: number,
  balanceError: number,
  arm: number,
  motion: number,
  inMouth: boolean,
  stepSec: number,
): void {
  const gain = Math.min(1, stepSec / SMOOTH_SEC);
  change.alongGrams += (alongGrams - change.alongGrams) * gain;
  change.besideGrams += (besideGrams - change.besideGrams) * gain;
  change.balanceGrams += (balanceError - change.balanceGrams) * gain;
  const eF = change.alongGrams;
  const eY = Math.abs(arm) >= 0.3 ? change.balanceGrams / arm : eF;
  change.changing =
    !inMouth &&
    Math.abs(eF) > 2 * (0.5 + 0.5 * motion) &&
    Math.abs(change.besideGrams) < 3 + 2 * motion &&
    eF * eY > 0.4 * eF * eF;
  // The farther off, the less is known: a bottle that was changed is weighed anew at once.
  change.walkGrams = CHANGE_WALK_GRAMS + Math.abs(eF);

  const out = milkGrams + alongGrams < (change.bottleOut ? -BOTTLE_OUT_GRAMS / 2 : -BOTTLE_OUT_GRAMS);
  change.contradictedSec = out === change.bottleOut ? 0 : change.contradictedSec + stepSec;
  if (change.contradictedSec >= BOTTLE_OUT_SEC && (change.bottleOut || !inMouth)) {
    change.bottleOut = out;
    change.contradictedSec = 0;
  }
}

/** Books a change once it has settled; gives the event, else null. Milk is the filter's, mL. */
export function trackChange(
  change: ChangeState,
  atSec: number,
  stepSec: number,
  milkMl: number,
): SensingEvent | null {
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
    change.recentSec += stepSec;
    if (change.recentSec < 1) return null;
    change.recentSec = 0;
    change.earlierMl = change.recentMl;
    change.recentMl = milkMl;
    return null;
  }
  change.calmSec += stepSec;
  if (change.calmSec < SETTLE_SEC || change.bottleOut) return null;
  change.open = false;
  const grown = milkMl - change.beforeMl;
  change.earlierMl = milkMl;
  change.recentMl = milkMl;
  if (Math.abs(grown) < LEAST_EVENT_ML) return null;
  if (grown > 0) change.addedMl += grown;
  else change.spiltMl -= grown;
  return { kind: grown > 0 ? 'refill' : 'spill', atSec: change.beganSec, volumeMl: Math.abs(grown) };
}
