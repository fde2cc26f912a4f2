/** Simple plans for comparison: one bottle for each feed, all of one size. They are evaluated in the same way. */
import { flOzFromMl, mlFromFlOz } from '../../base/units.ts';
import type { DayKind } from '../intake/intake-model.ts';
import { type Bag, type Bottle, type Outcome, outcomeOf } from './serving.ts';

/** `rule-of-thumb`: 1¼ fl oz for each hour away. `last-week`: the most of any day of the last week. */
export type PlainName = 'rule-of-thumb' | 'last-week';

export interface PlainPlan {
  name: PlainName;
  sizeMl: number;
  bottles: number;
  bag: Bag;
  outcome: Outcome;
}

/** Milk for each hour away, a rule of thumb of parents who pump; up to 1½ fl oz. Common practice, no source; the curve gives 1.0 at three months. */
export const RULE_OF_THUMB_FL_OZ = { low: 1, middle: 1.25, high: 1.5 } as const;

/** Bottles one after another, all of one size, without top-ups. */
export function rowOf(sizeMl: number, count: number, lostIfUnopened: boolean, spareMl: number | null): Bag {
  const bottle = (ml: number): Bottle => ({ ml, lostIfUnopened });
  return {
    firsts: Array.from({ length: count }, () => bottle(sizeMl)),
    topUps: [],
    spare: spareMl === null ? null : bottle(spareMl),
  };
}

/** A total divided evenly over the feeds, each bottle filled up to the next half ounce. */
export function sharedOut(totalMl: number, feeds: number, lostIfUnopened: boolean): Bag {
  const flOz = Math.max(0.5, Math.ceil(2 * flOzFromMl(totalMl / feeds) - 1e-6) / 2);
  return rowOf(mlFromFlOz(flOz), feeds, lostIfUnopened, null);
}

/** @param lastWeekMostMl most milk of any day of the last week, for as many hours; null if too little is known */
export function plainPlans(
  kinds: readonly DayKind[],
  {
    hours,
    lastWeekMostMl,
    lostIfUnopened,
  }: { hours: number; lastWeekMostMl: number | null; lostIfUnopened: boolean },
): PlainPlan[] {
  const feeds = kinds[0]!.feeds.length;
  const plan = (name: PlainName, totalMl: number): PlainPlan => {
    const bag = sharedOut(totalMl, feeds, lostIfUnopened);
    return { name, sizeMl: bag.firsts[0]!.ml, bottles: feeds, bag, outcome: outcomeOf(bag, kinds) };
  };
  return [
    plan('rule-of-thumb', mlFromFlOz(RULE_OF_THUMB_FL_OZ.middle) * hours),
    ...(lastWeekMostMl === null ? [] : [plan('last-week', lastWeekMostMl)]),
  ];
}
