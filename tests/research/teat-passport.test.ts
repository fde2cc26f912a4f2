import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { studentT95 } from '../../src/research/statistics/student-t.ts';
import { teatPassport, trialsFor } from '../../src/research/teat/passport.ts';

const bench = (volumesMl: readonly number[], change = {}) => ({
  version: 1,
  teat: 'the one with the blue ring',
  liquid: 'water',
  suction: 'free',
  tiltDeg: 30,
  headMm: 50,
  atMs: 0,
  trials: volumesMl.map((volumeMl) => ({ volumeMl, durationSec: 60 })),
  ...change,
});

describe('the passport of a nipple', () => {
  it('states mean, interval and variation of its trials', () => {
    // Worked by hand: mean 10, standard deviation 1, t for 4 degrees of freedom 2.776.
    const passport = teatPassport(bench([9, 9, 10, 11, 11]));
    expect(passport.flowMlPerMin).toBe(10);
    expect(passport.coefficientOfVariation).toBeCloseTo(0.1, 9);
    expect(passport.highMlPerMin - 10).toBeCloseTo((2.776 * 1) / Math.sqrt(5), 3);
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
    expect(trialsFor(0.07, 0.05)).toBe(11);
    expect((studentT95(9) * 0.07) / Math.sqrt(10)).toBeGreaterThan(0.05);
  });

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
