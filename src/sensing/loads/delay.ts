/**
 * Delay of the load cells against the accelerometer: a converter's filter settles in some 50 ms, an accelerometer's in a few. Without
 * a correction a hand's tremor would look like grams of milk.
 *
 * Accelerometer and gyroscope pass through a short delay line. Nine delays are tried in parallel: the part of the force across that the hanging mass does not explain,
 * above about 3 Hz, is least at the right delay. Between samples the minimum is found on a parabola through three neighbors.
 */
import { gramsFromNewtons } from '../../base/units.ts';
import type { Loads } from './loads.ts';

/** Delays that are tried: 0 to 100 ms in steps of a sample. */
const TRIED = 9;
const SLOTS = 12;
const COLUMNS = 6;
const MEMORY_SEC = 20;
/** Slower movements come from milk, mouth and tilt, not from tremor. */
const BAND_SEC = 0.06;
/** Start value, before a hand has moved the bottle: a common converter settles in 50 ms (data sheets of such converters, from memory), so about 20 ms late beside the accelerometer. */
const START_SAMPLES = 1.6;
/** Weight of the start value relative to the energies found, g²·s per sample²: a hand as restless as usual shows some hundred. */
const START_CURVATURE = 0.05;
const usual = (samples: number): number => START_CURVATURE * (samples - START_SAMPLES) ** 2;

export interface DelayLine {
  /** ax, ay, az, turnX, turnY, turnZ of the latest samples. */
  readonly ring: Float64Array;
  at: number;
  readonly slow: Float64Array;
  readonly energy: Float64Array;
  /** Mass in the sleeve, g; NaN while it is unknown, or a cell or the accelerometer fails. */
  hangingGrams: number;
  /** Delay of the cells in samples, and the time over which it was identified, seconds. */
  delaySamples: number;
  identifiedSec: number;
}

export function createDelayLine(): DelayLine {
  return {
    ring: new Float64Array(SLOTS * COLUMNS),
    at: 0,
    slow: new Float64Array(TRIED),
    energy: new Float64Array(TRIED),
    hangingGrams: Number.NaN,
    delaySamples: START_SAMPLES,
    identifiedSec: 0,
  };
}

function write(ring: Float64Array, slot: number, loads: Loads): void {
  const at = slot * COLUMNS;
  ring[at] = loads.ax;
  ring[at + 1] = loads.ay;
  ring[at + 2] = loads.az;
  ring[at + 3] = loads.turnX;
  ring[at + 4] = loads.turnY;
  ring[at + 5] = loads.turnZ;
}

/** Samples before this one must not be used: at the start, and after a gap. */
export function refillDelayLine(line: DelayLine, loads: Loads): void {
  for (let slot = 0; slot < SLOTS; slot++) write(line.ring, slot, loads);
}

/** Writes the delayed values into `loads`. Not a function that returns a number, since that would allocate. */
function putPast({ ring, at, delaySamples: samples }: DelayLine, loads: Loads): void {
  const whole = Math.floor(samples);
  const part = samples - whole;
  const here = ((at - whole + 2 * SLOTS) % SLOTS) * COLUMNS;
  const before = ((at - whole - 1 + 2 * SLOTS) % SLOTS) * COLUMNS;
  loads.ax = ring[here]! + part * (ring[before]! - ring[here]!);
  loads.ay = ring[here + 1]! + part * (ring[before + 1]! - ring[here + 1]!);
  loads.az = ring[here + 2]! + part * (ring[before + 2]! - ring[here + 2]!);
  loads.turnX = ring[here + 3]! + part * (ring[before + 3]! - ring[here + 3]!);
  loads.turnY = ring[here + 4]! + part * (ring[before + 4]! - ring[here + 4]!);
  loads.turnZ = ring[here + 5]! + part * (ring[before + 5]! - ring[here + 5]!);
}

/**
 * Takes one sample and replaces acceleration and turning by their values at the time that the cells measured.
 * Set `line.hangingGrams` before; it is a field, since a number argument may be allocated.
 */
export function alignLoads(line: DelayLine, loads: Loads): void {
  line.at = (line.at + 1) % SLOTS;
  write(line.ring, line.at, loads);
  if (!Number.isNaN(line.hangingGrams)) identify(line, loads);
  putPast(line, loads);
}

function identify(line: DelayLine, { fxN, stepSec }: Loads): void {
  const { ring, at, slow, energy, hangingGrams } = line;
  const acrossGrams = gramsFromNewtons(fxN);
  line.identifiedSec += stepSec;
  const gain = Math.min(1, stepSec / BAND_SEC);
  const keep = 1 - Math.min(1, stepSec / MEMORY_SEC);
  let best = 0;
  for (let k = 0; k < TRIED; k++) {
    const left = acrossGrams - hangingGrams * ring[((at - k + SLOTS) % SLOTS) * COLUMNS]!;
    slow[k] = slow[k]! + (left - slow[k]!) * gain;
    const fast = left - slow[k]!;
    energy[k] = energy[k]! * keep + fast * fast * stepSec;
    if (energy[k]! + usual(k) < energy[best]! + usual(best)) best = k;
  }
  line.delaySamples = best;
  if (best === 0 || best === TRIED - 1) return;
  const before = energy[best - 1]! + usual(best - 1);
  const after = energy[best + 1]! + usual(best + 1);
  const bend = before - 2 * (energy[best]! + usual(best)) + after;
  if (bend > 0) line.delaySamples = best + (0.5 * (before - after)) / bend;
}
