/** The blend of the bank's filters: mean and variance of a mixture (law of total variance, any textbook of probability). */
import { describe, expect, it } from 'vitest';
import { type Amount, bankIntakeSince } from '../../src/sensing/filter/bank-answers.ts';
import { createSensor, senseSample } from '../../src/sensing/index.ts';
import { readFixture, samplesOf } from '../support/captures.ts';

/** The bank after 60 s of a poured feed, and the intake of the last ten seconds by a blend with these weights. */
const { bytes, calibration } = readFixture('poured');
const sensor = createSensor(calibration);
for (const sample of samplesOf(bytes)) if (sample.atSec <= 60) senseSample(sensor, sample);
const { bank } = sensor;

function blended(weights: (member: number) => number): Amount {
  for (let i = 0; i < bank.filters.length; i++) bank.weights[i] = weights(i);
  const out = { grams: 0, variance: 0 };
  bankIntakeSince(bank, 50, out);
  return out;
}
const alone = bank.filters.map((_, member) => blended((i) => (i === member ? 1 : 0)));

describe('the intake of the last ten seconds', () => {
  it('of one filter alone is known as well as its covariance says: to less than what it took', () => {
    for (const { grams, variance } of alone) {
      expect(grams).toBeGreaterThan(2);
      expect(variance).toBeGreaterThan(0);
      expect(Math.sqrt(variance)).toBeLessThan(grams);
    }
  });

  it('of two filters varies by the mean of their variances and by how far they are apart', () => {
    for (const [a, b] of [
      [0, 1],
      [0, bank.filters.length - 1],
    ] as const) {
      const both = blended((i) => (i === a ? 0.3 : i === b ? 0.7 : 0));
      const [first, second] = [alone[a]!, alone[b]!];
      expect(both.grams).toBeCloseTo(0.3 * first.grams + 0.7 * second.grams, 9);
      const within = 0.3 * first.variance + 0.7 * second.variance;
      expect(both.variance).toBeCloseTo(within + 0.3 * 0.7 * (first.grams - second.grams) ** 2, 9);
    }
  });
});
