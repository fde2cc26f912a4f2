import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { searchSizes } from '../../src/planning/bag/search-sizes.ts';
import { type Bag, type Bottle, CLOSE_ML, outcomeOf } from '../../src/planning/bag/serving.ts';
import type { Distribution } from '../../src/planning/intake/distribution.ts';
import { dayKinds, learnBaby } from '../../src/planning/intake/intake-model.ts';
import { serveDay } from '../support/serve-day.ts';

const bottle = (ml: number, lostIfUnopened = false): Bottle => ({ ml, lostIfUnopened });
const bag = (firsts: number[], topUps: number[], spareMl: number | null = null, lost = false): Bag => ({
  firsts: firsts.map((ml) => bottle(ml, lost)),
  topUps: topUps.map((ml) => bottle(ml, lost)),
  spare: spareMl === null ? null : bottle(spareMl, lost),
});

/** A day on which each feed wants exactly so much. */
const exactly = (...wantedMl: number[]) => [
  { chance: 1, feeds: wantedMl.map((ml): Distribution => ({ ml: [ml], chance: [1] })) },
];

describe('a bag, served by the rule', () => {
  it.each([
    ['one bottle each', bag([90, 90], [30]), [80, 70], { thrownMl: 30, short: false, opened: 2 }],
    ['a top-up', bag([60, 60], [30, 30]), [85, 60], { thrownMl: 5, short: false, opened: 3 }],
    ['top-ups in order', bag([60, 60], [20, 40]), [115, 60], { thrownMl: 5, short: false, opened: 4 }],
    [
      'the next feed’s bottle when top-ups are gone',
      bag([60, 60, 60], []),
      [110, 60],
      { thrownMl: 10, short: false, opened: 3 },
    ],
    ['the spare last', bag([60, 60], [30], 30), [90, 90], { thrownMl: 0, short: false, opened: 4 }],
    [
      'nobody opens another for a sip',
      bag([60], [30]),
      [60 + CLOSE_ML],
      { thrownMl: 0, short: false, opened: 1 },
    ],
    ['short', bag([60, 60], []), [60, 80], { thrownMl: 0, short: true, opened: 2, missingMl: 20 }],
    [
      'short early: nothing is left for the last feed',
      bag([60, 60], []),
      [150, 60],
      { thrownMl: 0, short: true, opened: 2, missingMl: 90 },
    ],
    [
      'unopened bottles lost',
      bag([60, 60], [30, 40], 50, true),
      [50, 60],
      { thrownMl: 130, short: false, opened: 2 },
    ],
    ['a refused bottle', bag([60, 60], [30]), [5, 60], { thrownMl: 55, short: false, opened: 2 }],
  ] as const)('%s', (_, packed, wantedMl, expected) => {
    expect(serveDay(packed, wantedMl)).toMatchObject(expected);
    const exact = outcomeOf(packed, exactly(...wantedMl));
    expect(exact.thrownMl).toBeCloseTo(expected.thrownMl, 9);
    expect(exact.shortChance).toBe(expected.short ? 1 : 0);
    expect(exact.opened).toBe(expected.opened);
    if ('missingMl' in expected) expect(exact.missingMl).toBeCloseTo(expected.missingMl, 9);
  });

  it('has the outcome that many days drawn one by one have (Monte Carlo)', () => {
    const random = new Random(7, 'days');
    const kinds = dayKinds(learnBaby(100, []), { feeds: 4, hours: 11 });
    const draw = ({ ml, chance }: Distribution): number => {
      let at = random.uniform();
      let i = 0;
      while (i < ml.length - 1 && at >= chance[i]!) at -= chance[i++]!;
      return ml[i]!;
    };
    const days = 8_000;
    const wanted = Array.from({ length: days }, () => {
      let at = random.uniform();
      const kind = kinds.find(({ chance }) => {
        at -= chance;
        return at < 0;
      });
      return (kind ?? kinds[0]!).feeds.map(draw);
    });
    for (const packed of [
      bag([75, 75, 60, 60], [30, 30, 45, 45], 30),
      bag([90, 60, 60, 60], [30, 60], null, true),
      bag([120, 120, 120, 120, 120], []),
    ]) {
      const exact = outcomeOf(packed, kinds);
      const served = wanted.map((one) => serveDay(packed, one));
      const near = (values: number[], expected: number) => {
        const mean = values.reduce((sum, one) => sum + one, 0) / days;
        const sd = Math.sqrt(values.reduce((sum, one) => sum + (one - mean) ** 2, 0) / days);
        expect(Math.abs(mean - expected)).toBeLessThan((4 * sd) / Math.sqrt(days));
      };
      near(
        served.map(({ thrownMl }) => thrownMl),
        exact.thrownMl,
      );
      near(
        served.map(({ short }) => Number(short)),
        exact.shortChance,
      );
      near(
        served.map(({ missingMl }) => missingMl),
        exact.missingMl,
      );
      near(
        served.map(({ opened }) => opened),
        exact.opened,
      );
    }
  });
});

/**
 * The newsvendor: P(demand ≤ q) = Cu/(Cu + Co) at the best q. Worked example: demand normal, mean 50, standard deviation 20,
 * cost 5, price 7, so Cu = 2, Co = 5, fractile 2/7, q = 38.7, rounded 39, expected leftover at 39: 3.66
 * (Wikipedia, "Newsvendor model", numerical examples; figures as in the manual of the package NewsvendorModel.jl).
 */
describe('one bottle for one feed', () => {
  const ml = Array.from({ length: 1600 }, (_, i) => -30 + i / 10);
  const density = ml.map((x) => Math.exp(-((x - 50) ** 2) / 800));
  const sum = density.reduce((total, one) => total + one, 0);
  const normal = [{ chance: 1, feeds: [{ ml, chance: density.map((one) => one / sum) }] }];

  it('leaves what the worked example leaves', () => {
    expect(outcomeOf(bag([39], []), normal).thrownMl).toBeCloseTo(3.656, 2);
  });

  it('is as large as the critical fractile, with the limit as Co/(Cu + Co)', () => {
    const sizesMl = Array.from({ length: 1000 }, (_, i) => (i + 1) / 10);
    const {
      best: [best],
    } = searchSizes(
      normal,
      { feeds: 1, mostBottles: 1, mostMl: 1000, bottlePriceMl: 0 },
      { firstSizesMl: sizesMl, topUpSizesMl: [30], lostIfUnopened: false, spare: null },
      [5 / 7],
    );
    expect(best!.bag.firsts[0]!.ml + CLOSE_ML).toBeCloseTo(38.68, 0);
    expect(Math.abs(best!.bag.firsts[0]!.ml + CLOSE_ML - 38.68)).toBeLessThan(0.15);
  });
});
