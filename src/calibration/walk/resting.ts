/**
 * Finds holds in a running stream of samples: whenever the nipple is out of the mouth and the bottle rests for a moment, the means of that time
 * are used to check the calibration.
 */

import { newtonsFromGrams } from '../../base/units.ts';
import type { Calibration } from '../../sensing/loads/calibration.ts';
import type { SensorSample } from '../../sensing/loads/loads.ts';
import { FLAG } from '../../sensing/loads/loads.ts';
import { type Hold, holdFromSamples } from './hold.ts';

const HOLD_SEC = 1.5;
/** The mouth is detected with a delay of a second or two, so the nipple must be out for this long before and after a hold. */
const OUT_BEFORE_SEC = 2;
const OUT_AFTER_SEC = 1;
const LEAST_SAMPLES = 90;
/** A calm hand may hold it: scatter of the tilt's reading, its drift over the hold, g, and drift of a cell, g. */
const CALM_SD_G = 0.03;
const CALM_DRIFT_G = 0.02;
const CALM_DRIFT_GRAMS = 3;

/** Changed in place, since eighty samples a second come in. */
export interface RestingWatch {
  readonly countsPerGram: readonly number[];
  window: SensorSample[];
  outSinceSec: number | null;
  wasIn: boolean;
  /** A finished hold that waits until the nipple has stayed out long enough. */
  pending: Hold | null;
  pendingUntilSec: number;
}

/** @param calibration gives the gain of each cell */
export const createRestingWatch = ({ loadPerCount: [fx, fz] }: Calibration): RestingWatch => ({
  countsPerGram: [fz[0], fx[1], fx[2]].map((newtons) => Math.abs(newtonsFromGrams(1) / newtons)),
  window: [],
  outSinceSec: null,
  wasIn: false,
  pending: null,
  pendingUntilSec: 0,
});

/**
 * @param teatOut true when the nipple is known to be out of the mouth
 * @returns a finished hold, once; else null
 */
export function stepResting(watch: RestingWatch, sample: SensorSample, teatOut: boolean): Hold | null {
  const faulty = (sample.flags & (FLAG.axial | FLAG.front | FLAG.rear | FLAG.accelerometer)) !== 0;
  if (!teatOut || sample.resetBefore || sample.missingBefore > 0 || faulty) {
    watch.window = [];
    watch.pending = null;
    watch.outSinceSec = teatOut ? (watch.outSinceSec ?? sample.atSec) : null;
    watch.wasIn ||= !teatOut;
    return null;
  }
  // Before the first latch there is no need to wait.
  watch.outSinceSec ??= watch.wasIn ? sample.atSec : Number.NEGATIVE_INFINITY;
  if (sample.atSec - watch.outSinceSec < OUT_BEFORE_SEC) return null;
  watch.window.push(sample);
  if (sample.atSec - watch.window[0]!.atSec >= HOLD_SEC) {
    const samples = watch.window;
    watch.window = [];
    const hold = samples.length >= LEAST_SAMPLES ? holdFromSamples(samples) : null;
    if (hold && isCalm(hold, watch.countsPerGram)) {
      watch.pending = hold;
      watch.pendingUntilSec = sample.atSec + OUT_AFTER_SEC;
      return null;
    }
  }
  if (!watch.pending || sample.atSec < watch.pendingUntilSec) return null;
  const rested = watch.pending;
  watch.pending = null;
  return rested;
}

function isCalm(hold: Hold, countsPerGram: readonly number[]): boolean {
  return (
    hold.accelerometerSd.every((sd) => sd < CALM_SD_G * 8192) &&
    hold.accelerometerDrift.every((drift) => Math.abs(drift) < CALM_DRIFT_G * 8192) &&
    hold.cellDrift.every((drift, i) => Math.abs(drift) < CALM_DRIFT_GRAMS * countsPerGram[i]!)
  );
}
