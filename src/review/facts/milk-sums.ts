/** Sums from the milk list beside days of feeds: expressed a day, milk in the freezer and how long it would last. Pure. */
import type { Container } from '../../planning/milk/milk.ts';
import { isFrozen } from '../../planning/milk/places.ts';
import type { LedgerLine } from '../../planning/milk/stored-ledger.ts';
import type { DaySum } from './day-sums.ts';

export interface MilkSums {
  /** Expressed on each of the days, mL, in their order. */
  expressedMl: number[];
  freezerMl: number;
  /** When the oldest of it was expressed, ms; null with an empty freezer. */
  oldestFrozenMs: number | null;
  /** Days that the freezer's milk would last at the mean use on days with bottles; null without such days. */
  freezerDays: number | null;
}

/** @param containers on hand now, without those whose time has passed @param days of one baby, oldest first */
export function milkSums(
  lines: readonly LedgerLine[],
  containers: readonly Container[],
  days: readonly DaySum[],
): MilkSums {
  const got = lines.flatMap(({ entry, takenBack }) =>
    entry.what === 'got' && entry.kind === 'expressed' && !takenBack ? [entry] : [],
  );
  const frozen = containers.filter((one) => isFrozen(one) && one.kind === 'expressed');
  const freezerMl = frozen.reduce((sum, { volumeMl }) => sum + volumeMl, 0);
  const withBottles = days.filter(({ takenMl }) => takenMl > 0);
  const perDayMl = withBottles.reduce((sum, { takenMl }) => sum + takenMl, 0) / withBottles.length;
  return {
    expressedMl: days.map(({ fromMs, toMs }) =>
      got.filter(({ atMs }) => atMs >= fromMs && atMs < toMs).reduce((sum, { ml }) => sum + ml, 0),
    ),
    freezerMl,
    oldestFrozenMs:
      frozen.length === 0 ? null : Math.min(...frozen.map(({ expressedAtMs }) => expressedAtMs)),
    freezerDays: withBottles.length === 0 ? null : freezerMl / perDayMl,
  };
}
