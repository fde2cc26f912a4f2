import { describe, expect, it } from 'vitest';
import { mlFromFlOz } from '../../src/base/units.ts';
import {
  type KnownFeed,
  learnedFrom,
  sizeAdvice,
  usualFeedsWithin,
} from '../../src/planning/intake/known-feeds.ts';
import type { SeenFeed } from '../../src/planning/intake/seen-feed.ts';
import { pastDay } from './past-day.ts';

const ZONE = 'America/Chicago';
const NOW = Date.parse('2026-05-12T22:00:00Z');
const HOUR = 3_600_000;
const WHERE = { birthDay: '2026-02-01', nowMs: NOW, zone: ZONE };

const bottle = (hoursAgo: number, leftBottleMl: number, part: Partial<KnownFeed> = {}): KnownFeed => ({
  atMs: NOW - hoursAgo * HOUR,
  durationSec: 900,
  leftBottleMl,
  offeredMl: 90,
  ...part,
});
const breast = (hoursAgo: number): KnownFeed => bottle(hoursAgo, 0, { leftBottleMl: null, offeredMl: null });

describe('what kept feeds teach', () => {
  it('counts bottles only, and the hours since the feed before, the breast among them', () => {
    const { days, bottleFeeds } = learnedFrom([bottle(2, 80), breast(4), bottle(6.5, 70)], WHERE);
    expect(bottleFeeds).toBe(2);
    expect(days).toHaveLength(1);
    expect(days[0]!.feeds.map(({ ml }) => ml)).toEqual([70, 80]);
    // 2 hours for the second; the first has none before it, so the usual gap, which is that of the other.
    expect(days[0]!.feeds.map(({ hours }) => hours)).toEqual([2, 2]);
  });

  it('takes a top-up for a part of its feed', () => {
    const { days, bottleFeeds } = learnedFrom([bottle(3, 60), bottle(3 - 0.5, 20), bottle(0.5, 70)], WHERE);
    expect(bottleFeeds).toBe(2);
    expect(days[0]!.feeds.map(({ ml }) => ml)).toEqual([80, 70]);
  });

  it('leaves out what cannot be right, and says how many', () => {
    const learned = learnedFrom(
      [bottle(2, 80), bottle(5, 900), bottle(8, -20), bottle(-3, 80), { ...bottle(0, 80), atMs: Number.NaN }],
      WHERE,
    );
    expect(learned.bottleFeeds).toBe(1);
    expect(learned.leftOut).toBe(4);
    expect(learnedFrom([bottle(24, 80)], { ...WHERE, birthDay: '2026-05-12' }).leftOut).toBe(1);
  });

  it('tells the usual bottle and the usual minutes only once enough feeds say so', () => {
    const few = learnedFrom([bottle(2, 80), bottle(6, 80)], WHERE);
    expect([few.usualBottleMl, few.usualMinutes]).toEqual([null, null]);
    const minutes = [10, 12, 14, 16, 18, 20];
    const feeds = minutes.map((one, i) =>
      bottle(4 * i + 1, 80, { durationSec: one * 60, offeredMl: 60 + 30 * (i % 2) }),
    );
    const enough = learnedFrom(feeds, WHERE);
    expect(enough.usualMinutes).toEqual({ low: 12, high: 18 });
    expect([60, 90]).toContain(enough.usualBottleMl);
  });
});

describe('what a bottle says', () => {
  const seen = (...feeds: KnownFeed[]) => learnedFrom(feeds, WHERE).days.flatMap((day) => day.feeds);

  it('is "at least this" once no more than a film is left, and not where nobody said what was in it', () => {
    expect(seen(bottle(2, 86), bottle(6, 80)).map(({ emptied }) => emptied)).toEqual([false, true]);
    expect(seen(bottle(2, 90, { offeredMl: null }))[0]!.emptied).toBe(false);
  });

  it('is told by the last of the bottles of a feed', () => {
    expect(seen(bottle(3, 90), bottle(2.6, 20, { offeredMl: 30 }))[0]).toMatchObject({
      ml: 110,
      emptied: false,
    });
    expect(seen(bottle(3, 90), bottle(2.6, 30, { offeredMl: 30 }))[0]).toMatchObject({
      ml: 120,
      emptied: true,
    });
  });

  it('carries how much was poured, by milk over the bottles of a feed', () => {
    const [feed] = seen(
      bottle(3, 90, { pouredShare: 0.8 }),
      bottle(2.6, 30, { offeredMl: 60, pouredShare: 0 }),
    );
    expect(feed!.pouredShare).toBeCloseTo(0.6, 9);
  });

  it('counts by the hours that are planned, once enough bottles fall into them', () => {
    // Chicago: NOW is 5 PM. By day 60 mL at 10 AM and 2 PM, by night 120 mL at 10 PM and 2 AM.
    const week = [1, 2, 3, 4, 5].flatMap((day) => [
      bottle(24 * day + 7, 60),
      bottle(24 * day + 3, 60),
      bottle(24 * day - 5, 120, { offeredMl: 150 }),
      bottle(24 * day - 9, 120, { offeredMl: 150 }),
    ]);
    const byDay = learnedFrom(week, { ...WHERE, hours: { from: '08:30', until: '16:30' } });
    expect([byDay.sameHours, byDay.bottleFeeds]).toEqual([true, 10]);
    const byNight = learnedFrom(week, { ...WHERE, hours: { from: '21:00', until: '06:00' } });
    expect(new Set(byNight.days.flatMap(({ feeds }) => feeds.map(({ ml }) => ml)))).toEqual(new Set([120]));
    expect(
      learnedFrom(week.slice(0, 8), { ...WHERE, hours: { from: '08:30', until: '16:30' } }),
    ).toMatchObject({
      sameHours: false,
      bottleFeeds: 8,
    });
  });
});

describe('feeds that will be missed', () => {
  // Chicago is five hours behind UTC in May (IANA): NOW is 5 PM there. Each day a feed at 6 AM, 9 AM, noon, 3 PM and 9 PM.
  const day = (daysAgo: number) => [11, 8, 5, 2, 20].map((hours) => breast(24 * daysAgo + hours));
  const week = [1, 2, 3, 4].flatMap(day);
  const WHEN = { nowMs: NOW, zone: ZONE };

  it('are those that fell into the same hours on other days, of any kind', () => {
    expect(usualFeedsWithin(week, { from: '08:30', until: '17:00' }, WHEN)).toBe(3);
    expect(usualFeedsWithin(week, { from: '20:00', until: '07:00' }, WHEN)).toBe(2);
  });

  it('are not guessed from fewer than three days', () => {
    expect(usualFeedsWithin(day(1), { from: '08:30', until: '17:00' }, WHEN)).toBeNull();
    expect(usualFeedsWithin(day(0), { from: '08:30', until: '17:00' }, WHEN)).toBeNull();
  });
});

describe('the size to pack', () => {
  const days = (ml: number, count: number, part: Partial<SeenFeed> = {}) =>
    Array.from({ length: count }, (_, i) =>
      pastDay({ ageDays: 90, daysAgo: i + 1, hours: 9, feedsMl: [ml, ml, ml] }, part),
    );
  const THREE = mlFromFlOz(3);

  it('is the model’s while none is usual', () => {
    expect(sizeAdvice([], null, THREE)).toEqual({ sizeMl: THREE, because: 'first', days: 0 });
  });

  it('stays the usual one through three days of change, and moves half an ounce after four', () => {
    expect(sizeAdvice(days(115, 3), THREE, 60)).toEqual({ sizeMl: THREE, because: 'unchanged', days: 0 });
    expect(sizeAdvice(days(115, 4), THREE, 60)).toEqual({
      sizeMl: mlFromFlOz(3.5),
      because: 'more',
      days: 4,
    });
    expect(sizeAdvice(days(60, 4), THREE, 120)).toEqual({
      sizeMl: mlFromFlOz(2.5),
      because: 'less',
      days: 4,
    });
  });

  it('grows where bottles come back empty: that is at least this, not enough', () => {
    expect(sizeAdvice(days(89, 4, { emptied: true }), THREE, 60)).toMatchObject({ because: 'more', days: 4 });
    expect(sizeAdvice(days(60, 4, { emptied: true }), THREE, 60).because).toBe('unchanged');
  });

  it('does not grow by what was poured in, nor shrink by what was refused', () => {
    expect(sizeAdvice(days(115, 4, { pouredShare: 0.9 }), THREE, 60).because).toBe('unchanged');
    expect(sizeAdvice(days(4, 4), THREE, 60).because).toBe('unchanged');
  });

  it('stays within 2 to 4 fl oz, whatever was usual', () => {
    expect(sizeAdvice([], 240, THREE).sizeMl).toBeCloseTo(mlFromFlOz(4), 9);
    expect(sizeAdvice([], 30, THREE).sizeMl).toBeCloseTo(mlFromFlOz(2), 9);
  });
});
