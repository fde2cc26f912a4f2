import { describe, expect, it } from 'vitest';
import { mlFromFlOz } from '../../src/base/units.ts';
import {
  type KnownFeed,
  learnedFrom,
  sizeAdvice,
  usualFeedsWithin,
} from '../../src/planning/intake/known-feeds.ts';

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
    expect(days[0]!.feedsMl).toEqual([70, 80]);
    // 2 hours for the second; the first has none before it, so the usual gap, which is that of the other.
    expect(days[0]!.hours).toBeCloseTo(2 + 2, 6);
  });

  it('takes a top-up for a part of its feed', () => {
    const { days, bottleFeeds } = learnedFrom([bottle(3, 60), bottle(3 - 0.5, 20), bottle(0.5, 70)], WHERE);
    expect(bottleFeeds).toBe(2);
    expect(days[0]!.feedsMl).toEqual([80, 70]);
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
  const days = (ml: number, count: number) =>
    Array.from({ length: count }, (_, i) => ({
      ageDays: 90,
      daysAgo: i + 1,
      hours: 9,
      feedsMl: [ml, ml, ml],
    }));
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

  it('stays within 2 to 4 fl oz, whatever was usual', () => {
    expect(sizeAdvice([], 240, THREE).sizeMl).toBeCloseTo(mlFromFlOz(4), 9);
    expect(sizeAdvice([], 30, THREE).sizeMl).toBeCloseTo(mlFromFlOz(2), 9);
  });
});
