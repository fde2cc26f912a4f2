/**
 * The record of this baby's plans: what they promised and how the days went. If they ran short more or less often than promised, the chances of the
 * model are shifted: the logit of each by one number, with a normal prior about 0, at its most likely value
 * (recalibration in the large: Cox 1958, Biometrika 45:562, citation from memory). A few weeks change it little; a clear mistake changes it soon.
 */
import { DAY_MS } from '../../base/calendar.ts';
import type { PromisedMilk } from '../milk/ledger-state.ts';

export interface PlanRecord {
  /** Number of days whose outcome was entered. */
  days: number;
  /** Expected number of short days by the chances shown, and actual number. */
  promisedShort: number;
  realisedShort: number;
  promisedThrownMl: number;
  realisedThrownMl: number;
  /** The shift of the logit, 0 without data. */
  shift: number;
}

/** Prior standard deviation of the shift. Assumption, no source. */
const SHIFT_SD = 0.7;
/** Older days are not counted, since the baby has changed. */
const LATEST_MS = 84 * DAY_MS;
const CLOSEST = 1e-4;

const logit = (chance: number): number => {
  const inside = Math.min(1 - CLOSEST, Math.max(CLOSEST, chance));
  return Math.log(inside / (1 - inside));
};
const chanceOf = (x: number): number => 1 / (1 + Math.exp(-x));

/** A chance corrected by the shift. */
export const shifted = (chance: number, shift: number): number =>
  shift === 0 ? chance : chanceOf(logit(chance) + shift);

/** The most likely shift, by Newton's method; the log-posterior is concave. */
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
