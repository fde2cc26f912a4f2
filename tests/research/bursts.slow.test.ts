/** Sucks and bursts of well-behaved feeds beside what really happened in them. */
import { expect, it } from 'vitest';
import { replay } from '../../src/feed/replay.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { limitErrorsSec } from '../support/burst-limits.ts';
import { simulateCapture } from '../support/simulated-capture.ts';

it.each([61, 62, 63])(
  'sucks are counted within three in a hundred, and bursts begin and end within 0.5 s: feed %i',
  (seed) => {
    const { bytes, calibration, truth } = simulateCapture({ scenario: 'paced', seed, longestSec: 240 });
    const { refined } = replay([bytes], {
      calibration: parseCalibration(calibration, 'simulated'),
      portionMl: null,
    });
    const trueSucks = truth.suckTimes.length;
    expect(trueSucks).toBeGreaterThan(80);
    expect(Math.abs(refined.suckAtSec.length - trueSucks)).toBeLessThanOrEqual(0.03 * trueSucks);
    const errors = limitErrorsSec(refined.suckAtSec, truth.suckTimes);
    expect(errors.length).toBeGreaterThan(20);
    expect(Math.max(...errors.map(Math.abs))).toBeLessThanOrEqual(0.5);
  },
);
