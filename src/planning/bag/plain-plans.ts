/** Two plain ways to pack, to stand beside the plan: judged by the same outcome, each with the fewest bottles that keep to the limit. */
import { mlFromFlOz } from '../../base/units.ts';
import type { DayKind } from '../intake/intake-model.ts';
import { type Bag, type Bottle, type Outcome, outcomeOf } from './serving.ts';

export type PlainName = 'four-ounce' | 'two-to-three-with-spare';

export interface PlainPlan {
  name: PlainName;
  sizeMl: number;
  bottles: number;
  spareMl: number | null;
  bag: Bag;
  outcome: Outcome;
  meetsLimit: boolean;
}

/** Bottles one after another, all of one size: nothing tells a first bottle from a top-up. */
export function rowOf(sizeMl: number, count: number, lostIfUnopened: boolean, spareMl: number | null): Bag {
  const bottle = (ml: number): Bottle => ({ ml, lostIfUnopened });
  return {
    firsts: Array.from({ length: count }, () => bottle(sizeMl)),
    topUps: [],
    spare: spareMl === null ? null : bottle(spareMl),
  };
}

const MOST_BOTTLES = 40;

/** @returns the plain plan with the fewest bottles of that size that keep to the limit. */
export function plainRow(
  kinds: readonly DayKind[],
  name: PlainName,
  sizeMl: number,
  spareMl: number | null,
  { shortLimit, lostIfUnopened }: { shortLimit: number; lostIfUnopened: boolean },
): PlainPlan {
  for (let bottles = kinds[0]!.feeds.length; ; bottles++) {
    const bag = rowOf(sizeMl, bottles, lostIfUnopened, spareMl);
    const outcome = outcomeOf(bag, kinds);
    const meetsLimit = outcome.shortChance <= shortLimit;
    if (meetsLimit || bottles >= MOST_BOTTLES)
      return { name, sizeMl, bottles, spareMl, bag, outcome, meetsLimit };
  }
}

/** Both plain plans; of 2, 2½ and 3 fl oz the size that throws least away. Neither is held to the number of bottles or the milk on hand. */
export function plainPlans(
  kinds: readonly DayKind[],
  settings: { shortLimit: number; lostIfUnopened: boolean },
): PlainPlan[] {
  const smaller = [2, 2.5, 3]
    .map((flOz) => plainRow(kinds, 'two-to-three-with-spare', mlFromFlOz(flOz), mlFromFlOz(1), settings))
    .sort((a, b) => a.outcome.thrownMl - b.outcome.thrownMl);
  return [plainRow(kinds, 'four-ounce', mlFromFlOz(4), null, settings), smaller[0]!];
}
