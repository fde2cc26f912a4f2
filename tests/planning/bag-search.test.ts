import highs from 'highs';
import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { searchSizes } from '../../src/planning/bag/search-sizes.ts';
import { type StoredBottle, searchStored } from '../../src/planning/bag/search-stored.ts';
import { type Bag, type Bottle, outcomeOf } from '../../src/planning/bag/serving.ts';
import { type DayKind, dayKinds, learnBaby } from '../../src/planning/intake/intake-model.ts';
import { pastDay } from './past-day.ts';

const bottle = (ml: number): Bottle => ({ ml, lostIfUnopened: false });

/** All ways to choose `count` of the sizes, order not counting. */
function multisets(sizes: readonly number[], count: number): number[][] {
  if (count === 0) return [[]];
  return sizes.flatMap((size, i) => multisets(sizes.slice(i), count - 1).map((rest) => [size, ...rest]));
}

const KINDS = {
  unknown: dayKinds(learnBaby(100, []), { feeds: 3, hours: 9 }),
  big: dayKinds(
    learnBaby(
      150,
      [1, 2, 3, 4, 5, 6].map((daysAgo) =>
        pastDay({ ageDays: 150 - daysAgo, daysAgo, hours: 9, feedsMl: [130, 125, 140] }),
      ),
    ),
    { feeds: 3, hours: 9 },
  ),
  small: dayKinds(
    learnBaby(
      60,
      [1, 2, 3, 4, 5, 6, 7, 8].map((daysAgo) =>
        pastDay({ ageDays: 60 - daysAgo, daysAgo, hours: 6, feedsMl: [60, 75] }),
      ),
    ),
    { feeds: 2, hours: 6 },
  ),
};

describe('the search, beside every bag there is', () => {
  const cases = (Object.keys(KINDS) as (keyof typeof KINDS)[]).flatMap((name) =>
    [0.02, 0.05, 0.15].map((shortLimit) => ({
      name,
      shortLimit,
      bottlePriceMl: shortLimit === 0.05 ? 12 : 0,
    })),
  );

  it.each(cases)(
    '$name baby, short in $shortLimit of days, a bottle worth $bottlePriceMl mL: at most 1 % above the least',
    ({ name, shortLimit, bottlePriceMl }) => {
      const kinds = KINDS[name];
      const feeds = kinds[0]!.feeds.length;
      const [firstSizesMl, topUpSizesMl, mostBottles] = [[59, 74, 89, 118], [30, 44, 59], feeds + 5] as const;
      let leastMl = Number.POSITIVE_INFINITY;
      let leastShort = 1;
      for (const firsts of multisets(firstSizesMl, feeds)) {
        for (let count = 0; count <= mostBottles - feeds; count++) {
          for (const topUps of multisets(topUpSizesMl, count)) {
            const bag: Bag = {
              firsts: firsts.reverse().map(bottle),
              topUps: topUps.map(bottle),
              spare: bottle(30),
            };
            bag.firsts = [...bag.firsts].sort((a, b) => b.ml - a.ml);
            const { thrownMl, shortChance } = outcomeOf(bag, kinds);
            leastShort = Math.min(leastShort, shortChance);
            const costMl = thrownMl + bottlePriceMl * (firsts.length + topUps.length + 1);
            if (shortChance <= shortLimit) leastMl = Math.min(leastMl, costMl);
          }
        }
      }
      const {
        best: [best],
      } = searchSizes(
        kinds,
        { feeds, mostBottles, mostMl: 5000, bottlePriceMl },
        { firstSizesMl, topUpSizesMl, lostIfUnopened: false, spare: bottle(30) },
        [shortLimit],
      );
      if (leastMl < Number.POSITIVE_INFINITY) {
        expect(best!.outcome.shortChance).toBeLessThanOrEqual(shortLimit);
        expect(best!.costMl).toBeGreaterThanOrEqual(leastMl - 1e-9);
        expect(best!.costMl).toBeLessThanOrEqual(1.01 * leastMl);
      } else expect(best!.outcome.shortChance).toBeGreaterThanOrEqual(leastShort - 1e-9);
    },
  );

  it.each([1, 2, 3, 4, 5, 6])('containers as stored, set %i: at most 1 % above the least', (seed) => {
    const random = new Random(seed, 'containers');
    const kinds = seed % 2 ? KINDS.unknown : KINDS.small;
    const feeds = kinds[0]!.feeds.length;
    const containers: StoredBottle[] = Array.from({ length: 8 }, (_, i) => ({
      id: `c${i}`,
      ml: 5 * random.integer([5, 24]),
      lostIfUnopened: i % 3 === 0,
      lostAtHome: i % 3 === 0,
    }));
    const shortLimit = 0.1;
    let leastMl = Number.POSITIVE_INFINITY;
    let leastShort = 1;
    for (let code = 0; code < 3 ** containers.length; code++) {
      const roles = containers.map((_, i) => Math.floor(code / 3 ** i) % 3);
      const firsts = containers.filter((_, i) => roles[i] === 1).sort((a, b) => b.ml - a.ml);
      if (firsts.length !== feeds) continue;
      const topUps = containers.filter((_, i) => roles[i] === 2).sort((a, b) => a.ml - b.ml);
      const home = containers.filter((one, i) => roles[i] === 0 && one.lostAtHome);
      const { thrownMl, shortChance } = outcomeOf({ firsts, topUps, spare: null }, kinds);
      leastShort = Math.min(leastShort, shortChance);
      if (shortChance <= shortLimit)
        leastMl = Math.min(leastMl, thrownMl + home.reduce((sum, { ml }) => sum + ml, 0));
    }
    const {
      best: [best],
    } = searchStored(kinds, { feeds, mostBottles: 8, bottlePriceMl: 0 }, containers, null, [shortLimit]);
    if (leastMl < Number.POSITIVE_INFINITY) {
      expect(best!.outcome.shortChance).toBeLessThanOrEqual(shortLimit);
      expect(best!.outcome.thrownMl).toBeLessThanOrEqual(1.01 * leastMl);
      expect(best!.outcome.thrownMl).toBeGreaterThanOrEqual(leastMl - 1e-9);
    } else expect(best!.outcome.shortChance).toBeGreaterThanOrEqual(leastShort - 1e-9);
  });
});

/**
 * Another way to the same answer: the days written out one by one and none of them short, as an integer programme solved by
 * HiGHS (mixed-integer solver of the University of Edinburgh). Choice of each feed's size, number of top-ups, and how many each
 * feed of each day opens; what is left is minimised.
 */
describe('the search, beside an integer programme', () => {
  const FIRSTS = [59, 74, 89, 118];

  function programme(days: readonly number[][], topUpMl: number, mostBottles: number): string {
    const feeds = days[0]!.length;
    const constraints: string[] = [];
    const sizeOf = (i: number, sign = ''): string =>
      FIRSTS.map((ml, s) => `${sign || '+'} ${ml} x_${i}_${s}`).join(' ');
    for (let i = 0; i < feeds; i++)
      constraints.push(`${FIRSTS.map((_, s) => `x_${i}_${s}`).join(' + ')} = 1`);
    for (let i = 1; i < feeds; i++) constraints.push(`${sizeOf(i - 1)} ${sizeOf(i, '-')} >= 0`);
    constraints.push(`m <= ${mostBottles - feeds}`);
    days.forEach((wanted, d) => {
      wanted.forEach((ml, i) => {
        constraints.push(`${sizeOf(i)} + ${topUpMl} n_${d}_${i} >= ${ml - 2.5}`);
        constraints.push(`${sizeOf(i)} + ${topUpMl} n_${d}_${i} - l_${d}_${i} <= ${ml}`);
      });
      constraints.push(`${wanted.map((_, i) => `n_${d}_${i}`).join(' + ')} - m <= 0`);
    });
    const all = (name: string) => days.flatMap((wanted, d) => wanted.map((_, i) => `${name}_${d}_${i}`));
    const sizes = Array.from({ length: feeds }, (_, i) => FIRSTS.map((__, s) => `x_${i}_${s}`)).flat();
    return `Minimize\n obj: ${all('l').join(' + ')}\nSubject To\n${constraints
      .map((line, i) => ` c${i}: ${line}`)
      .join('\n')}\nBinary\n ${sizes.join(' ')}\nGeneral\n m ${all('n').join(' ')}\nEnd\n`;
  }

  it.each([1, 2, 3, 4, 5])('set %i: the same least milk thrown away', async (seed) => {
    const random = new Random(seed, 'programme');
    const solver = await highs();
    const feeds = 3;
    const days = Array.from({ length: 12 }, () =>
      Array.from({ length: feeds }, () => 5 * Math.round((85 * random.factor(0.35)) / 5)),
    );
    const topUpMl = [30, 44][seed % 2]!;
    const mostBottles = 9;
    const solved = solver.solve(programme(days, topUpMl, mostBottles));
    const kinds: DayKind[] = days.map((wanted) => ({
      chance: 1 / days.length,
      feeds: wanted.map((ml) => ({ ml: [ml], chance: [1] })),
    }));
    const {
      best: [best],
    } = searchSizes(
      kinds,
      { feeds, mostBottles, mostMl: 5000, bottlePriceMl: 0 },
      { firstSizesMl: FIRSTS, topUpSizesMl: [topUpMl], lostIfUnopened: false, spare: null },
      [1e-6],
    );
    if (solved.Status !== 'Optimal') expect(best!.outcome.shortChance).toBeGreaterThan(0);
    else {
      expect(best!.outcome.shortChance).toBe(0);
      expect(best!.outcome.thrownMl).toBeCloseTo(solved.ObjectiveValue / days.length, 4);
    }
  });
});
