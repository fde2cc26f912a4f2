/** What a replay prints about a sleeve with a sensor that does not fit. */
import { expect, it } from 'vitest';
import { replayText } from '../../src/app/review/replay-text.ts';
import { replay } from '../../src/feed/replay.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { MOTION_FAULTS } from '../support/hardships.ts';
import { simulateCapture } from '../support/simulated-capture.ts';

const told = (overrides: object): string => {
  const { bytes, calibration } = simulateCapture({ scenario: 'paced', seed: 13, longestSec: 20, overrides });
  const options = { calibration: parseCalibration(calibration, 'of the test'), portionMl: null };
  return replayText(replay([bytes], options).result);
};

it('a gyroscope with its axes swapped is named, with the time and what becomes of the feed', () => {
  expect(told(MOTION_FAULTS['gyroscope axes swapped'])).toMatch(
    /^ *0:\d\d {2}The gyroscope shows other turns .* without it\.$/m,
  );
  expect(told({})).not.toContain('gyroscope');
});
