/** Differences between two computations of one session. Pure. */
import { INDEX_KEYS, INDICES } from '../../../research/indices/definitions.ts';
import { type FeedIndices, type Index, isGiven } from '../../../research/indices/indices.ts';
import type { RefinedFeed } from '../../../sensing/index.ts';
import { type Computed, isSetAside } from '../sessions/session-result.ts';

export interface Difference {
  what: string;
  unit: string;
  /** Null if there was none, or if only the difference is meaningful. */
  before: number | string | null;
  now: number | string | null;
  /** In the unit; null if one side is missing. */
  change: number | null;
}

/** An earlier result, perhaps with fewer indices; from the store only the refined estimate is known. */
export type Before = Extract<Computed, string> | { refined: RefinedFeed; indices?: Partial<FeedIndices> };

const numbers = (what: string, unit: string, before: number | null, now: number | null): Difference => ({
  what,
  unit,
  before,
  now,
  change: before === null || now === null ? null : now - before,
});

/** @returns one line a quantity, changed or not; for a session that was or is set aside only that is said */
export function differencesOf(before: Before, now: Computed): Difference[] {
  const wasAside = typeof before === 'string';
  if (wasAside || isSetAside(now)) {
    const word = (one: Before): string => (typeof one === 'string' ? one : 'computed');
    return [{ what: 'set aside', unit: '', before: word(before), now: word(now), change: null }];
  }
  const old = before.refined;
  const { refined } = now;
  return [
    numbers('milk taken', 'mL', old.totals.intakeMl, refined.totals.intakeMl),
    numbers('milk spilt', 'mL', old.totals.spiltMl, refined.totals.spiltMl),
    numbers('sucks', '1', old.suckAtSec.length, refined.suckAtSec.length),
    rms('milk taken so far, rms', 'mL', old, refined, ({ intakeMl }) => intakeMl),
    rms('flow, rms', 'mL/min', old, refined, ({ flowMlPerMin }) => flowMlPerMin),
    ...(before.indices ? indexDifferences(before.indices, now.indices) : []),
  ];
}

/** Root mean square difference of rows with the same time. */
function rms(
  what: string,
  unit: string,
  old: RefinedFeed,
  now: RefinedFeed,
  of: (feed: RefinedFeed) => readonly (number | null)[],
): Difference {
  const oldAt = new Map(old.atSec.map((atSec, i) => [atSec.toFixed(3), of(old)[i]!]));
  const squares = now.atSec.flatMap((atSec, i) => {
    const was = oldAt.get(atSec.toFixed(3)) ?? null;
    const is = of(now)[i] ?? null;
    return was === null || is === null ? [] : [(is - was) ** 2];
  });
  const change =
    squares.length === 0 ? null : Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / squares.length);
  return { what, unit, before: null, now: null, change };
}

function indexDifferences(before: Partial<FeedIndices>, now: FeedIndices): Difference[] {
  const givenValue = (index: Index | undefined): number | null =>
    index && isGiven(index) ? index.value : null;
  return INDEX_KEYS.map((key) =>
    numbers(key, INDICES[key].unit, givenValue(before[key]), givenValue(now[key])),
  );
}
