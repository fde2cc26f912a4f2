import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { studentT95 } from '../../src/research/statistics/student-t.ts';
import { teatPassport, trialsFor, volumesShown } from '../../src/research/teat/passport.ts';
import { kitchenBench } from '../support/kitchen-bench.ts';
import { nippleTrials } from '../support/passports.ts';

/** Scale and clock are exact unless stated otherwise. */
const bench = (volumesMl: readonly number[], change = {}) =>
  nippleTrials(volumesMl, { scale: { stepGrams: 0, keptOn: false }, clockSec: 0, ...change });

describe('the passport of a nipple', () => {
  it('states mean, interval and variation of its trials', () => {
    // Worked by hand: mean 10, standard deviation 1, t for 4 degrees of freedom 2.776.
    const passport = teatPassport(bench([9, 9, 10, 11, 11]));
    expect(passport.flowMlPerMin).toBe(10);
    expect(passport.coefficientOfVariation).toBeCloseTo(0.1, 9);
    // A height to 0.58 mm of 50 mm is 0.58 % of the flow, which goes by its root: with 1.96 for 95 %.
    const byHeight = 1.96 * 10 * (0.58 / 50 / 2);
    expect(passport.highMlPerMin - 10).toBeCloseTo(Math.hypot((2.776 * 1) / Math.sqrt(5), byHeight), 3);
  });

  it('covers the true flow in 95 % of 1,000 benches', () => {
    const random = new Random(5, 'benches');
    let covered = 0;
    for (let i = 0; i < 1000; i++) {
      const { lowMlPerMin, highMlPerMin } = teatPassport(
        bench(Array.from({ length: 5 }, () => 12 * (1 + 0.08 * random.normal()))),
      );
      if (lowMlPerMin <= 12 && highMlPerMin >= 12) covered++;
    }
    // Three standard errors of 95 % of 1,000 are 2.1 points.
    expect(Math.abs(covered / 1000 - 0.95)).toBeLessThan(0.021);
  });

  it('says how many trials a precision takes: eleven for a variation of 7 %', () => {
    // 2.228 · 7 % ÷ √11 is 4.7 %, 2.262 · 7 % ÷ √10 is just above 5 %.
    const budget = { sd: 0.7, flow: 10, trialMin: 1, stepMl: 0, keptOn: true, clockMin: 0, headShare: 0 };
    expect(trialsFor(budget, 0.05)).toBe(11);
    expect((studentT95(9) * 0.07) / Math.sqrt(10)).toBeGreaterThan(0.05);
  });

  it('knows that a scale of 1 g cannot tell 3.3 from 3: alike readings are no certainty', () => {
    const apart = teatPassport(bench([3, 3, 3], { scale: { stepGrams: 1, keptOn: false } }));
    expect(apart.highMlPerMin).toBeGreaterThan(3.5);
    expect(apart.trialsFor5Percent).toBeNull();
    // With the cup left on, three minutes have one rounding.
    const together = teatPassport(bench([3, 3, 3], { scale: { stepGrams: 1, keptOn: true } }));
    expect(together.highMlPerMin).toBeLessThan(apart.highMlPerMin);
    expect(together.trialsFor5Percent).toBeGreaterThan(3);
  });

  it('takes what each trial let out from what the scale showed, water lighter than milk', () => {
    // Density of water 0.998 g/mL, of milk about 1.03.
    expect(volumesShown([9.98, 20.958], 'water').map((ml) => Number(ml.toFixed(6)))).toEqual([10, 11]);
    expect(volumesShown([10.3], 'milk')[0]).toBeCloseTo(10, 9);
    const fallen = {
      trials: volumesShown([10, 9, 20], 'water').map((volumeMl) => ({ volumeMl, durationSec: 60 })),
    };
    expect(() => teatPassport(bench([], fallen))).toThrow(/must not be below nothing/);
  });

  it.each([
    ['by itself', 0],
    ['under a pump', 150],
  ])(
    'is within 5 % of the truth in at least 95 %% of 200 kitchen tables, three minutes by the clock: %s',
    (_, suctionMmHg) => {
      const random = new Random(31, `kitchens ${suctionMmHg}`);
      const benches = Array.from({ length: 200 }, () => {
        const { trueMlPerMin, data } = kitchenBench(random, random.between([9, 40]), { suctionMmHg });
        return { trueMlPerMin, ...teatPassport(data) };
      });
      const shareOf = (is: (one: (typeof benches)[number]) => boolean) => benches.filter(is).length / 200;
      expect(
        shareOf((one) => Math.abs(one.flowMlPerMin - one.trueMlPerMin) <= 0.05 * one.trueMlPerMin),
      ).toBeGreaterThanOrEqual(0.95);
      expect(
        shareOf((one) => one.lowMlPerMin <= one.trueMlPerMin && one.highMlPerMin >= one.trueMlPerMin),
      ).toBeGreaterThanOrEqual(0.93);
    },
  );

  it('finds the hole of a drained cylinder by Torricelli’s law', () => {
    // A hole of 1 mm, 100 mm of water above it, discharge coefficient 0.62: Q = Cd · A · √(2 g h) = 40.9 mL/min.
    const area = Math.PI * 0.5e-3 ** 2;
    const flow = 0.62 * area * Math.sqrt(2 * 9.80665 * 0.1) * 1e6 * 60;
    expect(flow).toBeCloseTo(40.9, 1);
    const { holeMm } = teatPassport(bench([flow, flow, flow], { headMm: 100 }));
    expect(holeMm!.least).toBeLessThan(1);
    expect(holeMm!.most).toBeGreaterThan(1);
    expect(holeMm!.most / holeMm!.least).toBeCloseTo(Math.sqrt(0.8 / 0.5), 6);
  });

  it('calls it wear only where both intervals are apart, and compares like with like', () => {
    const before = teatPassport(bench([10, 10.2, 9.8, 10]));
    expect(teatPassport(bench([10.3, 9.9, 10.4, 10.1]), before).wear!.isClear).toBe(false);
    expect(teatPassport(bench([13, 13.2, 12.9, 13.1]), before).wear).toMatchObject({ isClear: true });
    expect(() => teatPassport(bench([10, 10, 10], { tiltDeg: 0 }), before)).toThrow(/other conditions/);
  });

  it('refuses what is no bench, and says where', () => {
    expect(() => teatPassport(bench([9, 10]))).toThrow(/trials must be at least three trials/);
    expect(() => teatPassport({ ...bench([1, 2, 3]), tiltDeg: 120 })).toThrow(/tiltDeg/);
  });
});
