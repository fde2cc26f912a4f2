/** Comparison of two groups of feeds: no people, no ranking, and no result from few feeds. Pure. */
import type { DayFeed } from './day-sums.ts';

/**
 * Fewest bottles in each group: one baby's daily intake varies by 13 to 15 % from day to day (1986, J Pediatr Gastroenterol Nutr 5:434-438),
 * so few feeds may differ by chance alone.
 */
const FEWEST_IN_GROUP = 10;
const DAY_TO_DAY_PERCENT: readonly [low: number, high: number] = [13, 15];

export interface GroupFacts {
  bottles: number;
  /** Median and quartiles, mL in a bottle. */
  takenMl: { low: number; middle: number; high: number };
  /** Median of the feeds' mean flows, mL/min; null if no feed has a time. */
  flowMlPerMin: number | null;
}

export type GroupPair =
  | { enough: false; bottles: [number, number] }
  | {
      enough: true;
      groups: [GroupFacts, GroupFacts];
      /** Relative change of the median from the first to the second group: 0.1 is a tenth more. */
      changeShare: number;
      /** True if it is within the usual variation of a baby from day to day. */
      isUsual: boolean;
    };

/** @param first the earlier group, @param second the later one; only bottles with an amount; attempts and open feeds are left out */
export function compareGroups(first: readonly DayFeed[], second: readonly DayFeed[]): GroupPair {
  const groups = [bottlesOf(first), bottlesOf(second)] as const;
  if (groups.some(({ length }) => length < FEWEST_IN_GROUP)) {
    return { enough: false, bottles: [groups[0].length, groups[1].length] };
  }
  const [one, other] = [factsOf(groups[0]), factsOf(groups[1])];
  const changeShare = other.takenMl.middle / one.takenMl.middle - 1;
  return {
    enough: true,
    groups: [one, other],
    changeShare,
    isUsual: Math.abs(changeShare) <= DAY_TO_DAY_PERCENT[1] / 100,
  };
}

type Bottle = DayFeed & { takenMl: number };

const bottlesOf = (feeds: readonly DayFeed[]): Bottle[] =>
  feeds.filter(
    (feed): feed is Bottle =>
      feed.kind === 'bottle' && !feed.isOpen && feed.takenMl !== null && feed.takenMl > 0,
  );

function factsOf(bottles: readonly Bottle[]): GroupFacts {
  const taken = bottles.map(({ takenMl }) => takenMl);
  const flows = bottles.flatMap(({ takenMl, durationSec }) =>
    durationSec !== null && durationSec >= 60 ? [takenMl / (durationSec / 60)] : [],
  );
  return {
    bottles: bottles.length,
    takenMl: { low: quantile(taken, 0.25), middle: quantile(taken, 0.5), high: quantile(taken, 0.75) },
    flowMlPerMin: flows.length === 0 ? null : quantile(flows, 0.5),
  };
}

/** Linear interpolation between the two nearest values (Hyndman and Fan 1996, Am Stat 50:361, type 7; from memory). */
function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const at = share * (sorted.length - 1);
  const below = sorted[Math.floor(at)]!;
  return below + (at - Math.floor(at)) * (sorted[Math.ceil(at)]! - below);
}
