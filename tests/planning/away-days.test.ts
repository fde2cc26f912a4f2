/** A day of which only the day's total is known: what it teaches, and when there is one. */
import { describe, expect, it } from 'vitest';
import { HOUR_MS } from '../../src/base/calendar.ts';
import { type AwayDay, withAwayDays } from '../../src/planning/intake/away-days.ts';
import { learnBaby, type PastDay } from '../../src/planning/intake/intake-model.ts';
import { newSize } from '../../src/planning/intake/new-size.ts';
import { awayDayOf } from '../../src/planning/milk/promises.ts';
import { ledgerOf } from '../support/milk-ledger.ts';
import { at } from './milk-on-hand.ts';
import { pastDay } from './past-day.ts';

const T0 = at('2026-05-11T18:00:00Z');
const NOW = T0 + 40 * HOUR_MS;
const hours = (count: number): number => T0 + count * HOUR_MS;
const AROUND = { birthDay: '2026-02-01', nowMs: NOW, zone: 'UTC' };

describe('what a day away came to', () => {
  const got = (id: string) => ({ what: 'got', atMs: T0, id, kind: 'expressed', ml: 90, place: 'fridge' });
  const back = (id: string, how: string, leftMl?: number) => ({
    what: 'came-back',
    atMs: hours(24),
    id,
    how,
    ...(leftMl !== undefined && { leftMl }),
  });
  const promised = (more = {}) => ({
    what: 'promised',
    atMs: hours(1),
    plan: 'wren',
    fromMs: hours(14),
    untilMs: hours(23),
    feeds: 3,
    ids: ['A', 'B', 'C'],
    claimed: { shortChance: 0.05, modelChance: 0.05, thrownMl: 40, bottles: 3 },
    ...more,
  });
  const awayOf = (...entries: object[]) => {
    const ledger = ledgerOf([got('A'), got('B'), got('C'), ...entries], NOW);
    return awayDayOf(ledger, ledger.promises.wren!);
  };

  it('is the sum of what left its bottles, once all of them are spoken for', () => {
    const two = [promised(), back('A', 'emptied'), back('B', 'left', 30)];
    expect(awayOf(...two)).toBeNull();
    expect(awayOf(...two, back('C', 'unopened'))).toEqual({
      fromMs: hours(14),
      untilMs: hours(23),
      feeds: 3,
      ml: 150,
      emptied: false,
    });
    const all = ['A', 'B', 'C'].map((id) => back(id, 'emptied'));
    expect(awayOf(promised({ feeds: undefined }), ...all)).toMatchObject({
      feeds: null,
      ml: 270,
      emptied: true,
    });
  });

  it('is not known where a bottle went another way, or nothing was opened', () => {
    const thrown = { what: 'discarded', atMs: hours(24), id: 'C' };
    expect(awayOf(promised(), back('A', 'emptied'), back('B', 'emptied'), thrown)).toBeNull();
    expect(awayOf(promised(), ...['A', 'B', 'C'].map((id) => back(id, 'unopened')))).toBeNull();
  });
});

describe('days away among those learned from', () => {
  const away = (more: Partial<AwayDay> = {}): AwayDay => ({
    fromMs: hours(14),
    untilMs: hours(23),
    feeds: 3,
    ml: 240,
    emptied: false,
    ...more,
  });

  it('are one sum of their feeds, beside what is known feed by feed', () => {
    const [day] = withAwayDays([], [away()], [], AROUND);
    expect(day).toMatchObject({ daysAgo: 1, feeds: [{ ml: 240, hours: 9, feeds: 3 }] });
    expect(withAwayDays([], [away({ feeds: null })], [], AROUND)).toEqual([day]);
    const known = pastDay({ ageDays: 100, daysAgo: 1, hours: 3, feedsMl: [80] });
    expect(withAwayDays([known], [away()], [], AROUND)).toHaveLength(1);
    expect(withAwayDays([known], [away()], [], AROUND)[0]!.feeds).toHaveLength(2);
  });

  it('are counted once, and left out where they cannot be', () => {
    expect(withAwayDays([], [away()], [hours(15)], AROUND)).toEqual([]);
    expect(withAwayDays([], [away({ ml: 1500 })], [], AROUND)).toEqual([]);
    expect(withAwayDays([], [away()], [], { ...AROUND, birthDay: '2026-06-01' })).toEqual([]);
  });

  /** The same days, once feed by feed and once as totals. */
  const both = (
    count: number,
    feedsOf: (day: number) => number[],
    emptied = false,
  ): [PastDay[], PastDay[]] => {
    const single = Array.from({ length: count }, (_, i) =>
      pastDay({ ageDays: 99 - i, daysAgo: i + 1, hours: 9, feedsMl: feedsOf(i) }, { emptied }),
    );
    const sums = single.map((day) => ({
      ...day,
      feeds: [
        { ml: day.feeds.reduce((sum, { ml }) => sum + ml, 0), hours: 9, emptied, pouredShare: 0, feeds: 3 },
      ],
    }));
    return [single, sums];
  };

  it('teach the rate as well as single feeds do, and of their scatter only what a sum can tell', () => {
    const [single, sums] = both(14, (i) => [60, 110, 75].map((ml) => ml * [0.75, 1, 1.25][i % 3]!));
    const [one, sum] = [learnBaby(100, single), learnBaby(100, sums)];
    expect(sum.feedsUsed).toBe(one.feedsUsed);
    expect(Math.exp(sum.middleLog - one.middleLog)).toBeCloseTo(1, 1);
    // Totals that scatter by a quarter mean feeds that scatter by more.
    const asFeeds = sums.map((day) => ({ ...day, feeds: day.feeds.map((feed) => ({ ...feed, feeds: 1 })) }));
    expect(sum.feedScatter).toBeGreaterThan(1.1 * learnBaby(100, asFeeds).feedScatter);
  });

  it('are "at least this" where every bottle was empty, and say nothing of the size of a bottle', () => {
    const [, emptied] = both(14, () => [89, 89, 89], true);
    const [, left] = both(14, () => [89, 89, 89]);
    expect(learnBaby(100, emptied).middleLog).toBeGreaterThan(learnBaby(100, left).middleLog + 0.05);
    expect(newSize(both(6, () => [120, 120, 120])[1], 89)).toBeNull();
  });
});
