import { mean, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { PlainError } from '../../src/base/errors.ts';
import { Random } from '../../src/base/random.ts';
import { mlFromFlOz } from '../../src/base/units.ts';
import {
  BETWEEN_BABIES_SD_LOG,
  DAY_TO_DAY_SD_LOG,
  dailyIntake,
} from '../../src/planning/intake/daily-intake.ts';
import { gammaOnGrid, meanMl, quantileMl, summed } from '../../src/planning/intake/distribution.ts';
import { learnBaby, type PastDay } from '../../src/planning/intake/intake-model.ts';
import { newSize } from '../../src/planning/intake/new-size.ts';
import { hoursSinceFeedBefore, pastDays } from '../../src/planning/intake/past-days.ts';
import { portionFor } from '../../src/planning/intake/portion.ts';
import { runs } from '../support/runs.ts';
import { pastDay } from './past-day.ts';

const AWAY = { feeds: 3, hours: 9 };

/** Days of one baby whose rate is `times` the curve's; gamma feeds, drawn without our own distributions. */
function daysOf(times: number, count: number, random: Random, ageDays = 120): PastDay[] {
  return Array.from({ length: count }, (_, i) => {
    const age = ageDays - (i + 1);
    const day = times * Math.exp(DAY_TO_DAY_SD_LOG * random.normal());
    const each = (dailyIntake(age).middleMl / 24) * (AWAY.hours / AWAY.feeds) * day;
    const feedsMl = Array.from({ length: AWAY.feeds }, () => Math.min(300, each * gammaFactor(random, 9)));
    return pastDay({ ageDays: age, daysAgo: i + 1, hours: AWAY.hours, feedsMl });
  });
}

/** Gamma with whole shape and mean 1: a sum of exponentials. */
function gammaFactor(random: Random, shape: number): number {
  let sum = 0;
  for (let i = 0; i < shape; i++) sum -= Math.log(1 - random.uniform());
  return sum / shape;
}

describe('distributions', () => {
  it('keep the mean and the scatter of the gamma distribution', () => {
    for (const [mean0, scatter] of [
      [60, 0.25],
      [90, 0.35],
      [140, 0.5],
    ] as const) {
      const one = gammaOnGrid(mean0, scatter);
      const mu = meanMl(one);
      const variance = one.ml.reduce((sum, ml, i) => sum + one.chance[i]! * (ml - mu) ** 2, 0);
      expect(mu).toBeCloseTo(mean0, 0);
      expect(Math.sqrt(variance) / mu).toBeCloseTo(scatter, 2);
    }
  });

  it('add their means and variances where feeds are independent', () => {
    const one = gammaOnGrid(90, 0.3);
    const three = summed([one, one, one]);
    expect(meanMl(three)).toBeCloseTo(3 * meanMl(one), 3);
    expect(quantileMl({ ml: [5, 10, 15], chance: [0.5, 0.25, 0.25] }, 0.5)).toBe(5);
    expect(quantileMl({ ml: [5, 10, 15], chance: [0.5, 0.25, 0.25] }, 0.51)).toBe(10);
  });
});

describe('the portion', () => {
  it('is the published curve while nothing is known', () => {
    const { perHour, total, perFeed } = portionFor(learnBaby(90, []), AWAY);
    // 735 mL in 24 h is 31 mL/h, 1 fl oz an hour.
    expect(perHour.middleMl).toBeCloseTo(735 / 24, 1);
    expect(total.middleMl).toBeGreaterThan(255);
    expect(total.middleMl).toBeLessThan(290);
    expect(total.lowMl).toBeLessThan(0.75 * total.middleMl);
    expect(total.highMl).toBeGreaterThan(1.3 * total.middleMl);
    expect(perFeed.lowMl).toBeLessThan(perFeed.middleMl);
  });

  it.each([0.65, 1, 1.45, 1.7])('believes a baby of %s times the curve after ten days', (times) => {
    const errors: number[] = [];
    for (let seed = 0; seed < 40; seed++) {
      const model = learnBaby(120, daysOf(times, 10, new Random(seed, `baby ${times}`)));
      errors.push(model.middleLog - Math.log(times));
      expect(model.ownShare).toBeGreaterThan(0.5);
    }
    // 10 days of 3 feeds have a standard error of about 0.08; the prior may add a third of that at most.
    expect(Math.abs(mean(errors))).toBeLessThan(0.05);
    expect(standardDeviation(errors)).toBeLessThan(0.11);
  });

  it('moves from the curve to the baby as feeds come in', () => {
    const days = daysOf(1.5, 12, new Random(5));
    const shares = [0, 1, 3, 6, 12].map((count) => learnBaby(120, days.slice(0, count)));
    expect(shares.map(({ ownShare }) => ownShare)).toEqual(
      [...shares.map(({ ownShare }) => ownShare)].sort((a, b) => a - b),
    );
    expect(shares[0]!.ownShare).toBe(0);
    expect(shares[4]!.sdLog).toBeLessThan(shares[1]!.sdLog);
  });

  it('lets a day count half as much each 14 days, so that a baby whose appetite changed is soon believed', () => {
    const day = (daysAgo: number, times = 1): PastDay =>
      pastDay({
        ageDays: 120,
        daysAgo,
        hours: AWAY.hours,
        feedsMl: Array.from({ length: 3 }, () => (times * dailyIntake(120).middleMl * AWAY.hours) / 24 / 3),
      });
    // The weight of one day: precision of the own data ÷ that of the prior, up to a constant factor.
    const weight = (daysAgo: number): number => {
      const { ownShare } = learnBaby(120, [day(daysAgo)]);
      return ownShare / (1 - ownShare);
    };
    for (const daysAgo of [1, 10, 30]) expect(weight(daysAgo + 14) / weight(daysAgo)).toBeCloseTo(0.5, 6);
    // One refused bottle beside a prior of ten: (0.3 + weight) ÷ (10 + weight).
    const refusedWeight = (daysAgo: number): number => {
      const { refusedShare } = learnBaby(120, [pastDay({ ageDays: 120, daysAgo, hours: 3, feedsMl: [5] })]);
      return (10 * refusedShare - 0.3) / (1 - refusedShare);
    };
    expect(refusedWeight(14)).toBeCloseTo(0.5, 9);
    expect(refusedWeight(28)).toBeCloseTo(0.25, 9);
    const changed = [
      ...Array.from({ length: 10 }, (_, i) => day(i + 1, 1.4)),
      ...Array.from({ length: 20 }, (_, i) => day(i + 31, 0.7)),
    ];
    const { middleLog } = learnBaby(120, changed);
    expect(middleLog).toBeGreaterThan((Math.log(1.4) + Math.log(0.7)) / 2 + 0.1);
  });

  it('holds what comes: about 8 of 10 days lie in the range, for babies of all kinds and any number of past days', () => {
    const random = new Random(11, 'coverage');
    let inside = 0;
    const tries = runs({ quick: 120, all: 240 });
    for (let i = 0; i < tries; i++) {
      const times = Math.exp(BETWEEN_BABIES_SD_LOG * random.normal());
      const days = daysOf(times, 1 + (i % 8), random);
      const { total } = portionFor(learnBaby(120, days.slice(1)), AWAY);
      const todayMl = days[0]!.feeds.reduce((sum, { ml }) => sum + ml, 0);
      if (todayMl >= total.lowMl && todayMl <= total.highMl) inside += 1;
    }
    expect(inside / tries).toBeGreaterThan(0.74);
    expect(inside / tries).toBeLessThan(0.9);
  });

  it('suggests 2 to 4 fl oz in half ounces, enough of them for the high end', () => {
    for (const times of [0.5, 1, 2]) {
      const portion = portionFor(learnBaby(120, daysOf(times, 10, new Random(3))), AWAY);
      const halves = portion.bottle.sizeMl / mlFromFlOz(0.5);
      expect(halves).toBeCloseTo(Math.round(halves), 9);
      expect(halves).toBeGreaterThan(3.9);
      expect(halves).toBeLessThan(8.1);
      expect(portion.bottle.count * portion.bottle.sizeMl).toBeGreaterThanOrEqual(portion.total.highMl);
    }
  });

  it.each([
    [
      'a feed of −5 mL',
      () => learnBaby(120, [pastDay({ ageDays: 119, daysAgo: 1, hours: 9, feedsMl: [-5] })]),
    ],
    [
      'a feed of 900 mL',
      () => learnBaby(120, [pastDay({ ageDays: 119, daysAgo: 1, hours: 9, feedsMl: [900] })]),
    ],
    [
      'a day of 90 hours',
      () => learnBaby(120, [pastDay({ ageDays: 119, daysAgo: 1, hours: 90, feedsMl: [90] })]),
    ],
    ['tomorrow', () => learnBaby(120, [pastDay({ ageDays: 121, daysAgo: -1, hours: 9, feedsMl: [90] })])],
    ['no feeds', () => portionFor(learnBaby(120, []), { feeds: 0, hours: 9 })],
    ['30 hours away', () => portionFor(learnBaby(120, []), { feeds: 3, hours: 30 })],
  ])('refuses %s', (_, act) => {
    expect(act).toThrow(PlainError);
  });
});

describe('past feeds', () => {
  const zone = 'America/New_York';
  const at = (iso: string) => Date.parse(iso);

  it('are put on the day of the wall clock, with the hours they stand for', () => {
    const feeds = [
      { atMs: at('2026-03-08T04:30:00Z'), intakeMl: 90, hoursSinceFeed: 3 }, // 7 March, 23:30
      { atMs: at('2026-03-08T13:00:00Z'), intakeMl: 80, hoursSinceFeed: null },
      { atMs: at('2026-03-09T02:00:00Z'), intakeMl: 100, hoursSinceFeed: 14 }, // 8 March, 22:00; so long a gap is not believed
    ];
    const days = pastDays(feeds, { birthDay: '2025-12-08', todayMs: at('2026-03-10T15:00:00Z'), zone });
    expect(days).toEqual([
      pastDay({ ageDays: 89, daysAgo: 3, hours: 3, feedsMl: [90] }),
      // Both gaps unknown: each the median of those known, 3 hours.
      pastDay({ ageDays: 90, daysAgo: 2, hours: 6, feedsMl: [80, 100] }),
    ]);
    expect(hoursSinceFeedBefore(at('2026-03-08T13:00:00Z'), [feeds[0]!.atMs, feeds[2]!.atMs])).toBe(8.5);
  });

  it('may not lie in the future', () => {
    const feed = { atMs: at('2026-03-11T00:00:00Z'), intakeMl: 90, hoursSinceFeed: null };
    const context = { birthDay: '2025-12-08', todayMs: at('2026-03-10T15:00:00Z'), zone };
    expect(() => pastDays([feed], context)).toThrow(/in the future/);
    expect(() => pastDays([{ ...feed, atMs: Number.NaN }], context)).toThrow(PlainError);
  });
});

describe('a new size', () => {
  const day = (daysAgo: number, ...feedsMl: number[]): PastDay =>
    pastDay({ ageDays: 100, daysAgo, hours: 9, feedsMl });
  const three = mlFromFlOz(3);

  it('comes only when each of the last four days asks for it', () => {
    const high = [1, 2, 3, 4].map((ago) => day(ago, 110, 105, 100));
    expect(newSize(high, three)?.sizeMl).toBeCloseTo(mlFromFlOz(3.5), 9);
    expect(newSize(high.slice(0, 3), three)).toBeNull();
    expect(newSize(high.slice(0, 3), three, 3)?.sizeMl).toBeCloseTo(mlFromFlOz(3.5), 9);
    expect(newSize([day(1, 80, 85, 90), ...high.slice(1)], three)).toBeNull();
    expect(
      newSize([day(1, 60, 65), day(2, 70, 60), day(3, 65, 66), day(5, 60, 70)], three)?.sizeMl,
    ).toBeCloseTo(mlFromFlOz(2.5), 9);
  });

  it('never leaves 2 to 4 fl oz', () => {
    const high = [1, 2, 3, 4].map((ago) => day(ago, 180, 170));
    expect(newSize(high, mlFromFlOz(4))).toBeNull();
    const low = [1, 2, 3, 4].map((ago) => day(ago, 20, 25));
    expect(newSize(low, mlFromFlOz(2))).toBeNull();
  });
});
