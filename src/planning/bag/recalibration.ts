/**
 * What the plans of this baby promised, beside how its days went. Day by day the logit of the model's chances goes up by what a short day
 * was not promised, and down by what a day was that did not run short: the step of adaptive conformal inference (Gibbs and Candès 2021,
 * Advances in Neural Information Processing Systems 34, arXiv:2106.00170), here on the logit. Its sum is the shift, which grows ever
 * more slowly, so that over many days as many run short as were promised, whatever the baby does.
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

/** Logit for a whole day of difference; tried from 0.3 to 3. Own choice, no source. */
const STEP = 1;
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

/** @param days in the order in which they went */
export const shiftOf = (days: readonly { modelChance: number; short: boolean }[]): number =>
  days.reduce(
    (shift, { modelChance, short }) => shift + STEP * (Number(short) - shifted(modelChance, shift)),
    0,
  );

/** @param promises of one baby */
export function planRecord(promises: readonly PromisedMilk[], nowMs: number): PlanRecord {
  const told = promises
    .filter(({ short, fromMs }) => short !== null && fromMs > nowMs - LATEST_MS)
    .sort((a, b) => a.fromMs - b.fromMs);
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
