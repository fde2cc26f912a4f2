/**
 * 24 mL/min is never taken for 8, nor 8 for 24, for more than 5 s: a caregiver who is told to slow a slow feed, or nothing of a fast one, is misled. Judged by the greater of told and true
 * flow, from 24 mL/min on, and a third of it; in rows of any quality.
 */
import { describe, expect, it } from 'vitest';
import type { SensedMoment } from '../../src/sensing/index.ts';
import { readSecond, SECOND_SIMULATOR, samplesOf } from '../support/captures.ts';
import { HARDSHIPS } from '../support/hardships.ts';
import { mistakenFor } from '../support/mistaken.ts';
import { sense, sensedFeed } from '../support/sensed-feed.ts';

const LONGEST_SEC = 5;

describe('a fast flow and a slow one', () => {
  it.each(SECOND_SIMULATOR)('are told apart in a feed of the second simulator: %s', (name) => {
    const { bytes, calibration, truth } = readSecond(name);
    expect(mistakenFor(sense(samplesOf(bytes), calibration).moments, truth).anySec).toBeLessThan(LONGEST_SEC);
  });

  // Seed 45: for some seconds after the latch the jaw's couple cannot be seen in the balance's scatter.
  it.each([
    ['let-down', 45],
    ['tipped-up', 45],
  ] as const)('are told apart in a simulated feed: %s, seed %d', (scenario, seed) => {
    const { moments, truth } = sensedFeed({ scenario, seed, longestSec: 75 });
    expect(mistakenFor(moments, truth).anySec).toBeLessThan(LONGEST_SEC);
  });

  // Seed 14: the latch looks like one suck, and no suck after it can be seen.
  it('are told apart where no suck can be seen', () => {
    const overrides = HARDSHIPS['invisible sucks'];
    const { moments, truth } = sensedFeed({ scenario: 'tipped-up', seed: 14, longestSec: 60, overrides });
    expect(mistakenFor(moments, truth).anySec).toBeLessThan(LONGEST_SEC);
    const later = moments.filter(({ atSec }) => atSec > 22);
    expect(later.every(({ quality, reason }) => quality === 'degraded' && reason === 'sucks')).toBe(true);
  });

  // Seed 13: at 130 s the milk slows from burst to burst, and the milk per suck is still not known.
  it('are told apart, or called doubtful, where each burst gives another amount', () => {
    const overrides = HARDSHIPS['irregular sucks'];
    const { moments, truth } = sensedFeed({ scenario: 'tipped-up', seed: 13, longestSec: 145, overrides });
    expect(mistakenFor(moments, truth).goodSec).toBeLessThan(LONGEST_SEC);
    const late = moments.filter(({ atSec, flowMlPerMin }) => atSec > 128 && flowMlPerMin! > 14);
    expect(late.length).toBeGreaterThan(100);
    for (const { quality, flowSdMlPerMin } of late) expect(quality === 'good').toBe(flowSdMlPerMin! < 8);
  });

  it('a flow told as a quarter of the true one fails this check', () => {
    const { moments, truth } = sensedFeed({ scenario: 'tipped-up', seed: 41, longestSec: 60 });
    const third = moments.map(
      (moment): SensedMoment => ({ ...moment, flowMlPerMin: (moment.flowMlPerMin ?? 0) / 4 }),
    );
    expect(mistakenFor(third, truth).anySec).toBeGreaterThan(LONGEST_SEC);
  });
});
