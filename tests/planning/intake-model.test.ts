/** What one bottle tells of the baby when it was emptied, refused, poured, or is old. Each case was once a mistake. */
import { describe, expect, it } from 'vitest';
import { rowOf } from '../../src/planning/bag/plain-plans.ts';
import { outcomeOf } from '../../src/planning/bag/serving.ts';
import { gammaShareBelow, logGamma, unitGamma } from '../../src/planning/intake/gamma.ts';
import { dayKinds, learnBaby, type PastDay } from '../../src/planning/intake/intake-model.ts';
import { summaryOf } from '../../src/planning/intake/rate-filter.ts';
import { GRID } from '../../src/planning/intake/rate-grid.ts';
import { pastDay } from './past-day.ts';

const AGE = 100;
const FEEDS = { feeds: 3, hours: 9 };
const days = (count: number, feedsMl: number[], part = {}, first = 1): PastDay[] =>
  Array.from({ length: count }, (_, i) =>
    pastDay({ ageDays: AGE - first - i, daysAgo: first + i, hours: 9, feedsMl }, part),
  );
const times = (past: PastDay[]): number => Math.exp(learnBaby(AGE, past).middleLog);

describe('the gamma distribution', () => {
  it('knows factorials and the root of π', () => {
    expect(Math.exp(logGamma(6))).toBeCloseTo(120, 9);
    expect(Math.exp(logGamma(0.5))).toBeCloseTo(Math.sqrt(Math.PI), 10);
  });

  it('has the shares of the chi-square table: 7.815 at 3 degrees and 18.307 at 10 hold 95 %', () => {
    // Any printed chi-square table; a chi-square of k is a gamma of shape k/2 and scale 2.
    expect(gammaShareBelow(1.5, 7.815 / 2)).toBeCloseTo(0.95, 4);
    expect(gammaShareBelow(5, 18.307 / 2)).toBeCloseTo(0.95, 4);
    expect(gammaShareBelow(5, 3.94 / 2)).toBeCloseTo(0.05, 4);
  });

  it('has mean 1 and its scatter, and a density that adds up to its shares', () => {
    const one = unitGamma(0.35);
    let [share, mean, square] = [0, 0, 0];
    for (let u = -4; u < 3; u += 0.001) {
      share += 0.001 * one.density(u);
      mean += 0.001 * one.density(u) * Math.exp(u);
      square += 0.001 * one.density(u) * Math.exp(2 * u);
      if (Math.abs(u + 0.3) < 5e-4) expect(one.below(u)).toBeCloseTo(share, 2);
    }
    expect(share).toBeCloseTo(1, 6);
    expect(mean).toBeCloseTo(1, 6);
    expect(Math.sqrt(square - mean ** 2)).toBeCloseTo(0.35, 5);
  });
});

describe('the rate that is believed', () => {
  it('is the published spread before any feed, not a wider one', () => {
    // ln(1298 ÷ 478) over 4.8 deviations, from Kent's range: 0.208.
    expect(summaryOf(learnBaby(AGE, []).belief).sdLog).toBeGreaterThan(0.19);
    expect(summaryOf(learnBaby(AGE, []).belief).sdLog).toBeLessThan(0.215);
  });

  it('takes an emptied bottle for "at least this": 3 fl oz emptied by a baby that wants more', () => {
    // One bottle in six comes back with something in it, as it does with feeds of 115 mL that differ by a quarter.
    const emptied = days(20, [89, 89, 89], { emptied: true }).map((day, i) =>
      i % 2 ? { ...day, feeds: day.feeds.with(1, { ...day.feeds[1]!, ml: 76, emptied: false }) } : day,
    );
    const asWanted = emptied.map((day) => ({
      ...day,
      feeds: day.feeds.map((feed) => ({ ...feed, emptied: false })),
    }));
    expect(times(emptied)).toBeGreaterThan(1.15 * times(asWanted));
    const short = outcomeOf(rowOf(89, 3, false, null), dayKinds(learnBaby(AGE, emptied), FEEDS)).shortChance;
    // It ran short every day so far, so the plan must not say that it seldom does.
    expect(short).toBeGreaterThan(0.5);
  });

  it('does not climb with bottles that are emptied however large they are', () => {
    const usual = times(days(20, [90, 90, 90], { emptied: true }));
    const large = times(days(20, [170, 170, 170], { emptied: true }));
    expect(large).toBeLessThan(1.35 * usual);
  });

  it('is not moved by one refused bottle', () => {
    const good = days(5, [90, 95, 85], {}, 2);
    const refused = [pastDay({ ageDays: AGE - 1, daysAgo: 1, hours: 9, feedsMl: [90, 3, 90] }), ...good];
    expect(times(refused)).toBeGreaterThan(0.97 * times(good));
    expect(learnBaby(AGE, refused).refused).toBe(1);
    expect(learnBaby(AGE, refused).refusedShare).toBeGreaterThan(learnBaby(AGE, good).refusedShare);
  });

  it('learns slowly how often a bottle is refused', () => {
    const often = learnBaby(AGE, days(14, [90, 3, 90]));
    expect(often.refusedShare).toBeGreaterThan(0.2);
    const [kind] = dayKinds(often, FEEDS);
    expect(kind!.feeds[0]!.chance[0]).toBeGreaterThan(0.2);
  });

  it('takes a poured feed for no need: it says less, and less milk', () => {
    const calm = days(6, [80, 85, 90], {}, 2);
    const poured = pastDay({ ageDays: AGE - 1, daysAgo: 1, hours: 9, feedsMl: [170] }, { pouredShare: 0.9 });
    const thought = pastDay({ ageDays: AGE - 1, daysAgo: 1, hours: 9, feedsMl: [170] });
    expect(times([poured, ...calm])).toBeLessThan(times([thought, ...calm]));
    expect(times([poured, ...calm])).toBeLessThan(1.03 * times(calm));
    expect(learnBaby(AGE, [poured]).poured).toBe(1);
    expect(times(days(14, [120, 120, 120], { pouredShare: 0.9 }))).toBeLessThan(
      0.85 * times(days(14, [120, 120, 120])),
    );
  });

  it('is moved less by a day the longer ago it was', () => {
    const moved = [1, 5, 12, 30].map((ago) =>
      times([...days(1, [130, 130, 130], {}, ago), ...days(3, [85, 90, 80], {}, 40)]),
    );
    expect(moved).toEqual([...moved].sort((a, b) => b - a));
    expect(moved[0]! - moved[3]!).toBeGreaterThan(0.02);
  });

  it('grows with the baby by the published curve', () => {
    // 51 − 1.4·30 + 180·ln 30 = 621 mL at a month, 735 at three (Rios-Leyvraz and Yao 2023): the same milk is more for the younger.
    const at = (ageDays: number) =>
      learnBaby(ageDays, [pastDay({ ageDays: ageDays - 1, daysAgo: 1, hours: 9, feedsMl: [90, 90, 90] })])
        .middleLog;
    expect(at(31)).toBeGreaterThan(at(91));
  });

  it('bears one odd day, and follows when the change stays', () => {
    const calm = days(10, [85, 90, 80], {}, 2);
    const ill = pastDay({ ageDays: AGE - 1, daysAgo: 1, hours: 9, feedsMl: [40, 35, 45] });
    expect(times([ill, ...calm])).toBeGreaterThan(0.85 * times(calm));
    const stays = [...days(6, [120, 125, 115]), ...days(10, [85, 90, 80], {}, 7)];
    expect(times(stays)).toBeGreaterThan(1.2 * times(calm));
  });

  const afterIllness = (illDays: number, wellDays: number): PastDay[] => [
    ...days(wellDays, [85, 90, 80]),
    ...days(illDays, [45, 50, 40], {}, wellDays + 1),
    ...days(15, [85, 90, 80], {}, wellDays + illDays + 1),
  ];

  it('goes back after an illness: one day tells that it is over', () => {
    const usual = times(days(20, [85, 90, 80]));
    expect(times(afterIllness(6, 0))).toBeLessThan(0.65 * usual);
    expect(times(afterIllness(6, 1))).toBeGreaterThan(0.9 * usual);
  });

  it('does not forget the old rate in an illness, since each day of it may be the last', () => {
    const usual = times(days(20, [85, 90, 80]));
    expect(Math.exp(learnBaby(AGE, afterIllness(4, 0)).highLog)).toBeGreaterThan(0.9 * usual);
    // After it many babies want more for a while.
    const { highLog } = learnBaby(AGE, days(20, [85, 90, 80]));
    expect(learnBaby(AGE, afterIllness(6, 1)).highLog).toBeGreaterThan(highLog + 0.03);
  });

  it('takes for usual what has stayed for weeks', () => {
    const usual = times(days(20, [85, 90, 80]));
    expect(Math.exp(learnBaby(AGE, afterIllness(21, 0)).highLog)).toBeLessThan(0.7 * usual);
  });

  it('counts the hours since the feed before', () => {
    const hoursAfter = (hours: number) =>
      times([pastDay({ ageDays: AGE - 1, daysAgo: 1, hours, feedsMl: [90] })]);
    expect(hoursAfter(2)).toBeGreaterThan(hoursAfter(4));
  });

  it('stays on its grid, whatever was fed', () => {
    for (const ml of [1, 12, 460]) {
      const { middleLog, sdLog } = learnBaby(AGE, days(30, [ml, ml, ml]));
      expect(Math.abs(middleLog)).toBeLessThan(GRID.at(-1)! + 1e-9);
      expect(sdLog).toBeGreaterThan(0);
    }
  });
});
