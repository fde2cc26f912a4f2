import { mean, sampleCorrelation, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { Random, Wander } from '../../src/base/random.ts';

const draws = (count: number, draw: () => number): number[] => Array.from({ length: count }, draw);

describe('seeded random numbers', () => {
  it('repeats itself for the same seed and stream, and for no other', () => {
    const first = (seed: number, stream: string): number[] => {
      const random = new Random(seed, stream);
      return draws(5, () => random.uint32());
    };
    expect(first(7, 'cells')).toEqual(first(7, 'cells'));
    expect(first(7, 'cells')).not.toEqual(first(8, 'cells'));
    expect(first(7, 'cells')).not.toEqual(first(7, 'hand'));
    expect(first(7 + 2 ** 32, 'cells')).not.toEqual(first(7, 'cells'));
  });

  it('keeps neighbouring seeds apart', () => {
    const one = new Random(1, 'hand');
    const two = new Random(2, 'hand');
    const pairs = draws(20_000, () => one.normal());
    const others = draws(20_000, () => two.normal());
    // Standard error of a correlation of independent series: 1/√n = 0.007.
    expect(Math.abs(sampleCorrelation(pairs, others))).toBeLessThan(0.03);
  });

  it('draws evenly and normally', () => {
    const random = new Random(3);
    const even = draws(40_000, () => random.uniform());
    expect(mean(even)).toBeCloseTo(0.5, 2);
    // A uniform distribution's standard deviation is 1/√12 (handbook).
    expect(standardDeviation(even)).toBeCloseTo(1 / Math.sqrt(12), 2);
    const normal = draws(40_000, () => random.normal());
    expect(mean(normal)).toBeCloseTo(0, 1);
    expect(standardDeviation(normal)).toBeCloseTo(1, 1);
    // 68.27 % of a normal distribution lies within one standard deviation (handbook).
    expect(normal.filter((x) => Math.abs(x) < 1).length / 40_000).toBeCloseTo(0.6827, 1.9);
    expect(mean(draws(40_000, () => random.factor(0.4)))).toBeCloseTo(1, 1.5);
  });

  it('draws whole numbers with both ends', () => {
    const random = new Random(4);
    expect(new Set(draws(300, () => random.integer([5, 8])))).toEqual(new Set([5, 6, 7, 8]));
  });
});

describe('wander', () => {
  it('has its standard deviation and forgets by 1/e in its time', () => {
    const wander = new Wander(new Random(5), 2, 0.5, 0.0125);
    const path = draws(200_000, () => wander.step());
    const lag = 0.5 / 0.0125;
    expect(standardDeviation(path)).toBeGreaterThan(1.9);
    expect(standardDeviation(path)).toBeLessThan(2.1);
    const correlation = sampleCorrelation(path.slice(0, -lag), path.slice(lag));
    expect(Math.abs(correlation - Math.exp(-1))).toBeLessThan(0.04);
  });
});
