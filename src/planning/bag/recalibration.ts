/**
 * What the plans of this baby promised, beside how its days went. When they ran short oftener or less often than promised, the chances
 * of the model are shifted: the logit of each by one number, a priori normal about 0, taken at its most likely value
 * (recalibration in the large: Cox 1958, Biometrika 45:562, citation from memory). A few weeks move it little, a clear mistake soon.
 */
import { DAY_MS } from '../../base/calendar.ts';
import type { PromisedMilk } from '../milk/ledger-state.ts';

export interface PlanRecord {
  /** Days of which somebody said how they went. */
  days: number;
  /** Days that were to run short by what was shown, and that did. */
  promisedShort: number;
  realisedShort: number;
  promisedThrownMl: number;
  realisedThrownMl: number;
  /** The shift of the logit, 0 while nothing is known. */
  shift: number;
}

/** Shifts beyond this would be rare, should the model be good. Assumption, no source. */
const SHIFT_SD = 0.7;
/** Older days are of another baby. */
const LATEST_MS = 84 * DAY_MS;
const CLOSEST = 1e-4;

const logit = (chance: number): number => {
  const inside = Math.min(1 - CLOSEST, Math.max(CLOSEST, chance));
  return Math.log(inside / (1 - inside));
};
const chanceOf = (x: number): number => 1 / (1 + Math.exp(-x));

/** The chance as the record has it. */
export const shifted = (chance: number, shift: number): number =>
  shift === 0 ? chance : chanceOf(logit(chance) + shift);

/** The most likely shift: by Newton's steps, its logarithm is concave. */
export function shiftOf(days: readonly { modelChance: number; short: boolean }[]): number {
  let shift = 0;
  for (let step = 0; step < 30; step++) {
    let slope = -shift / SHIFT_SD ** 2;
    let bend = -1 / SHIFT_SD ** 2;
    for (const { modelChance, short } of days) {
      const chance = chanceOf(logit(modelChance) + shift);
      slope += Number(short) - chance;
      bend -= chance * (1 - chance);
    }
    shift -= slope / bend;
  }
  return shift;
}

/** @param promises of one baby */
export function planRecord(promises: readonly PromisedMilk[], nowMs: number): PlanRecord {
  const told = promises.filter(({ short, fromMs }) => short !== null && fromMs > nowMs - LATEST_MS);
  const sum = (of: (one: PromisedMilk) => number): number => told.reduce((total, one) => total + of(one), 0);
  return {
    days: told.length,
    promisedShort: sum(({ claimed }) => claimed.shortChance),
    realisedShort: sum(({ short }) => Number(short)),
    promisedThrownMl: sum(({ claimed }) => claimed.thrownMl),
    realisedThrownMl: sum(({ thrownMl }) => thrownMl),
    shift: shiftOf(told.map(({ claimed, short }) => ({ modelChance: claimed.modelChance, short: short! }))),
  };
}
