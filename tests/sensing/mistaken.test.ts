/**
 * 24 mL/min is never taken for 8, nor 8 for 24, for more than 5 s: a caregiver who is told to slow a slow feed, or nothing of a fast one, is misled. Judged by the greater of told and true
 * flow, from 24 mL/min on, and a third of it; in rows of any quality.
 */
import { describe, expect, it } from 'vitest';
import type { SensedMoment } from '../../src/sensing/index.ts';
import { readSecond, SECOND_SIMULATOR, samplesOf } from '../support/captures.ts';
import { mistakenFor } from '../support/mistaken.ts';
import { sense, sensedFeed } from '../support/sensed-feed.ts';

const LONGEST_SEC = 5;

describe('a fast flow and a slow one', () => {
  it.each(SECOND_SIMULATOR)('are told apart in a feed of the second simulator: %s', (name) => {
    const { bytes, calibration, truth } = readSecond(name);
    expect(mistakenFor(sense(samplesOf(bytes), calibration).moments, truth).anySec).toBeLessThan(LONGEST_SEC);
  });

  // Seed 45: what the jaw does hides in the scatter of the balance for some seconds after the latch.
  it.each([
    ['let-down', 45],
    ['tipped-up', 45],
  ] as const)('are told apart in a simulated feed: %s, seed %d', (scenario, seed) => {
    const { moments, truth } = sensedFeed({ scenario, seed, longestSec: 75 });
    expect(mistakenFor(moments, truth).anySec).toBeLessThan(LONGEST_SEC);
  });

  it('would be noticed', () => {
    const { moments, truth } = sensedFeed({ scenario: 'tipped-up', seed: 41, longestSec: 60 });
    const third = moments.map(
      (moment): SensedMoment => ({ ...moment, flowMlPerMin: (moment.flowMlPerMin ?? 0) / 4 }),
    );
    expect(mistakenFor(third, truth).anySec).toBeGreaterThan(LONGEST_SEC);
  });
});
