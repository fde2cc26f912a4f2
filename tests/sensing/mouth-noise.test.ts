/**
 * The noise that is identified, against noise that is known: an Ornstein–Uhlenbeck process of spread c and correlation time τ beside white noise of spread R a row. Their Allan
 * variances over one row, ½E[(x(k+1) − x(k))²], are c²(1 − e^(−d/τ)) and R² (closed forms, IEEE Std 952 annex C for the first-order Markov process; from memory).
 */
import { mean } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import {
  createMouthNoise,
  interruptMouthNoise,
  rowVariance,
  stepMouthNoise,
} from '../../src/sensing/mouth/mouth-noise.ts';
import { MILK_NOISE, MOUTH_NOISE } from '../../src/sensing/noise.ts';
import { seededRandom } from '../support/random.ts';

const ROW_SEC = 0.2;

function knownNoise(coupleGrams: number, rowGrams: number, rows: number, seed: number): number[] {
  const random = seededRandom(seed);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const keep = Math.exp(-ROW_SEC / MILK_NOISE.coupleSec);
  let couple = coupleGrams * normal();
  return Array.from({ length: rows }, () => {
    couple = couple * keep + coupleGrams * Math.sqrt(1 - keep * keep) * normal();
    return couple + rowGrams * normal();
  });
}

describe('noise of a mouth', () => {
  it('has the Allan variance of its closed form', () => {
    const noise = knownNoise(2, 0.5, 40_000, 3);
    const allan = mean(noise.slice(1).map((grams, k) => (grams - noise[k]!) ** 2 / 2));
    expect(allan / (4 * (1 - Math.exp(-ROW_SEC / MILK_NOISE.coupleSec)) + 0.25)).toBeCloseTo(1, 1);
  });

  it.each([
    [0.5, 0.3],
    [2, 0.5],
    [2, 1.5],
    [5, 0.5],
  ])('is found: a couple of %d g beside %d g a row, within a fifth over ten minutes', (couple, row) => {
    const found = [1, 2, 3, 4].map((seed) => {
      const state = createMouthNoise();
      const couples: number[] = [];
      for (const grams of knownNoise(couple, row, 3000, seed)) {
        stepMouthNoise(state, grams, ROW_SEC);
        couples.push(state.coupleGrams);
      }
      return mean(couples.slice(500));
    });
    expect(Math.abs(mean(found) / couple - 1)).toBeLessThan(0.2);
  });

  it('is known after ten seconds to a third, whatever was reckoned with before', () => {
    for (const couple of [0.3, 4]) {
      const found = [1, 2, 3, 4, 5, 6].map((seed) => {
        const state = createMouthNoise();
        for (const grams of knownNoise(couple, 0.1, 55, seed)) stepMouthNoise(state, grams, ROW_SEC);
        return state.coupleGrams;
      });
      expect(Math.abs(mean(found) / couple - 1)).toBeLessThan(0.34);
    }
  });

  it('is not taken for none after a few seconds in which it hid', () => {
    const least = Array.from({ length: 40 }, (_, seed) => {
      const state = createMouthNoise();
      const couples: number[] = [];
      for (const grams of knownNoise(2, 1, 50, 100 + seed)) {
        stepMouthNoise(state, grams, ROW_SEC);
        couples.push(state.coupleGrams);
      }
      return Math.min(...couples.slice(15));
    });
    // Below half a gram at the lever a couple of 2 g would be taken for milk, with a deviation a dozen times too small.
    expect(least.filter((grams) => grams < 0.5)).toEqual([]);
  });

  it('of a knock is not that of a mouth, and a teat that comes anew begins anew', () => {
    const state = createMouthNoise();
    for (const grams of knownNoise(1, 0.3, 500, 7)) stepMouthNoise(state, grams, ROW_SEC);
    const before = state.coupleGrams;
    stepMouthNoise(state, 60, ROW_SEC);
    expect(state.coupleGrams).toBeLessThan(1.3 * before);
    interruptMouthNoise(state);
    const settled = state.coupleGrams;
    // Just after the latch, while the mouth settles, nothing is learned.
    for (let k = 0; k < 5; k++) stepMouthNoise(state, 20 * k, ROW_SEC);
    expect(state.coupleGrams).toBe(settled);
  });

  it('sets how far a row is trusted: no better than the least, worse where blocks scatter', () => {
    const state = createMouthNoise();
    state.coupleGrams = 0;
    state.rowGrams = 0;
    const { leastGrams, nominalRowSec, withinRowShare } = MOUTH_NOISE;
    const scale = nominalRowSec / ROW_SEC;
    expect(rowVariance(state, 0, ROW_SEC)).toBeCloseTo(leastGrams ** 2 * scale, 9);
    expect(rowVariance(state, 4, ROW_SEC)).toBeCloseTo((leastGrams ** 2 + withinRowShare * 4) * scale, 9);
    state.coupleGrams = 3;
    expect(rowVariance(state, 0, ROW_SEC)).toBeGreaterThan(9 * scale);
  });
});
