/**
 * The record of this baby's plans: what they promised and how the days went. Day by day the logit of the model's chances is raised by what
 * was not promised of a short day, and lowered by what was promised of another: the step of adaptive conformal inference (Gibbs and Candès
 * 2021, Advances in Neural Information Processing Systems 34, arXiv:2106.00170), on the logit. The sum of these steps is the shift. It grows
 * ever more slowly, so over many days as many are short as were promised, whatever the baby does.
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

/** Change of the logit for a difference of one whole day. Own choice among 0.3 to 3, no source. */
const STEP = 1;
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
