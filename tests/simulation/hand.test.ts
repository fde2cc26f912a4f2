import { max, mean, min, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { PLAIN_PARAMETERS } from '../../src/simulation/defaults.ts';
import { Hand, Leaning } from '../../src/simulation/hand.ts';
import type { HandParameters } from '../../src/simulation/parameters.ts';

const STEP_SEC = 0.0125;
const still: HandParameters = { ...PLAIN_PARAMETERS.hand, motionScale: 0 };

/** |felt force| of a hand that holds level, g, after it has come to the hold. */
function felt(parameters: HandParameters, lastsSec: number, seed = 1): number[] {
  const hand = new Hand(parameters, seed, STEP_SEC);
  const sizes: number[] = [];
  for (let i = 0; i < (lastsSec + 10) / STEP_SEC; i++) {
    hand.step(90, false);
    if (i * STEP_SEC >= 10) sizes.push(Math.hypot(...hand.feltG));
  }
  return sizes;
}

/** Amplitude at one frequency (discrete Fourier sum over whole periods). */
function amplitude(column: number[], hz: number): number {
  const periods = Math.floor((column.length * STEP_SEC * hz) / 1);
  const length = Math.round(periods / hz / STEP_SEC);
  const average = mean(column);
  let cosine = 0;
  let sine = 0;
  for (let i = 0; i < length; i++) {
    cosine += (column[i]! - average) * Math.cos(2 * Math.PI * hz * i * STEP_SEC);
    sine += (column[i]! - average) * Math.sin(2 * Math.PI * hz * i * STEP_SEC);
  }
  return (2 * Math.hypot(cosine, sine)) / length;
}

describe('a caregiver who walks', () => {
  const walking = felt({ ...still, walkingShare: 1 }, 60);

  it('bounces the bottle 1.8 times a second by about 0.08 g, with an overtone', () => {
    expect(amplitude(walking, 1.8)).toBeCloseTo(0.08, 2);
    expect(amplitude(walking, 3.6)).toBeCloseTo(0.032, 2);
    for (const hz of [0.9, 1.3, 2.5]) expect(amplitude(walking, hz)).toBeLessThan(0.005);
  });

  it('walks for about the wanted share of the time', () => {
    const spells = felt({ ...still, walkingShare: 0.5 }, 1800);
    const shaken: number[] = [];
    for (let i = 0; i + 80 <= spells.length; i += 80) {
      shaken.push(standardDeviation(spells.slice(i, i + 80)) > 0.02 ? 1 : 0);
    }
    expect(Math.abs(mean(shaken) - 0.5)).toBeLessThan(0.15);
  });

  it('stands still when she does not', () => {
    expect(standardDeviation(felt(still, 20))).toBeLessThan(1e-6);
  });
});

describe('a restless hand', () => {
  it('moves four times as much', () => {
    const usual = standardDeviation(felt(PLAIN_PARAMETERS.hand, 60));
    const restless = standardDeviation(felt({ ...PLAIN_PARAMETERS.hand, motionScale: 4 }, 60));
    expect(restless / usual).toBeGreaterThan(3.5);
    expect(restless / usual).toBeLessThan(4.6);
  });
});

describe('a hand or a cloth on the bottle', () => {
  it('leans on it for seconds, at a place away from the tip, with the stated force', () => {
    const parameters = { ...PLAIN_PARAMETERS.leaning, timesPerMin: 4, forceN: 0.3 };
    const leaning = new Leaning(parameters, 2, STEP_SEC);
    const forces: number[] = [];
    const places: number[] = [];
    let touched = 0;
    for (let i = 0; i < 3600 / STEP_SEC; i++) {
      leaning.step();
      const { forceXN, forceZN, atZMm } = leaning.touch;
      if (Math.hypot(forceXN, forceZN) < 0.02) continue;
      touched += STEP_SEC;
      forces.push(forceXN);
      places.push(atZMm);
    }
    expect(min(places)).toBeGreaterThanOrEqual(parameters.atZMm[0]);
    expect(max(places)).toBeLessThanOrEqual(parameters.atZMm[1]);
    expect(max(places) - min(places)).toBeGreaterThan(50);
    // Four times a minute for 2 to 8 s, less what falls into a touch that is still on.
    expect(touched / 3600).toBeGreaterThan(0.15);
    expect(touched / 3600).toBeLessThan(0.4);
    expect(standardDeviation(forces)).toBeGreaterThan(0.2);
    expect(max(forces)).toBeLessThan(0.3 * 5);
  });

  it('is gone while what could lean on it is not there', () => {
    const often = new Leaning({ ...PLAIN_PARAMETERS.collar, timesPerMin: 20 }, 2, STEP_SEC, 'collar');
    const sizes: number[] = [];
    for (let i = 0; i < 120 / STEP_SEC; i++) {
      const near = i % 1600 < 800;
      often.step(near);
      // A touch ends within about three times 0.3 s.
      if (i % 1600 >= 800 + 160) expect(Math.abs(often.touch.forceXN)).toBeLessThan(0.01);
      else sizes.push(Math.abs(often.touch.forceXN));
    }
    expect(max(sizes)).toBeGreaterThan(0.1);
  });
});
