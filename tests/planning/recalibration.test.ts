import { describe, expect, it } from 'vitest';
import { shifted, shiftOf } from '../../src/planning/bag/recalibration.ts';

const days = (modelChance: number, count: number, shortCount: number) =>
  Array.from({ length: count }, (_, i) => ({ modelChance, short: i < shortCount }));

describe('the plan’s own record', () => {
  it('moves nothing while nothing is known, and nothing where days went as promised', () => {
    expect(shiftOf([])).toBe(0);
    expect(shiftOf(days(0.1, 100, 10))).toBeCloseTo(0, 6);
    expect(shifted(0.3, 0)).toBe(0.3);
  });

  it('goes to the odds that really came out as days add up', () => {
    // Ten times as many days, and what was believed before counts for less: logit(0.2) − logit(0.05) = 1.558.
    const [few, many, lots] = [20, 200, 20_000].map((count) => shiftOf(days(0.05, count, count / 5)));
    expect(few!).toBeGreaterThan(0.4);
    expect(few!).toBeLessThan(many!);
    expect(lots!).toBeCloseTo(Math.log(0.2 / 0.8) - Math.log(0.05 / 0.95), 2);
    expect(shifted(0.05, lots!)).toBeCloseTo(0.2, 2);
  });

  it('lies at the top of its likelihood, found by trying all', () => {
    const some = [...days(0.05, 30, 4), ...days(0.2, 10, 1)];
    const logOf = (shift: number) =>
      some.reduce(
        (sum, { modelChance, short }) => {
          const chance = shifted(modelChance, shift === 0 ? 1e-12 : shift);
          return sum + Math.log(short ? chance : 1 - chance);
        },
        -0.5 * (shift / 0.7) ** 2,
      );
    const tried = Array.from({ length: 4001 }, (_, i) => (i - 2000) / 1000);
    const best = tried.reduce((a, b) => (logOf(b) > logOf(a) ? b : a));
    expect(shiftOf(some)).toBeCloseTo(best, 2);
  });

  it('turns back: what is shifted there and back is the same', () => {
    for (const chance of [0.02, 0.1, 0.5]) expect(shifted(shifted(chance, 0.6), -0.6)).toBeCloseTo(chance, 9);
  });
});
