/**
 * How much later the cells speak than the accelerometer, from a sleeve that is moved up and down. The idea of src/sensing/loads/delay.ts, on a
 * whole recording: of many shifts the right one lets the force across follow the acceleration best; between samples, by a parabola. Pure.
 */

/** Shifts that are tried, samples: 50 ms too early to 200 ms too late. */
const EARLIEST = -4;
const LATEST = 16;
/** What is slower than this is tilt and warmth, s. */
const SLOW_SEC = 1;

export interface DelayFound {
  readonly delayMs: number;
  /** Share of the force's variance that follows the acceleration. */
  readonly explained: number;
  /** Standard deviation of the acceleration, g. */
  readonly movedG: number;
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;

/** Each value less the mean of those about it. */
function quick(values: readonly number[], half: number): number[] {
  const sums = [0];
  for (const value of values) sums.push(sums[sums.length - 1]! + value);
  return values
    .slice(half, values.length - half)
    .map((value, i) => value - (sums[i + 2 * half + 1]! - sums[i]!) / (2 * half + 1));
}

/** Squared correlation of the force with the acceleration `shift` samples before. */
function explainedAt(force: readonly number[], acceleration: readonly number[], shift: number): number {
  let [fa, ff, aa] = [0, 0, 0];
  // The same stretch of the force for every shift: else their scores are not comparable.
  for (let i = LATEST; i < force.length + EARLIEST; i++) {
    const [f, a] = [force[i]!, acceleration[i - shift]!];
    fa += f * a;
    ff += f * f;
    aa += a * a;
  }
  return fa > 0 ? (fa * fa) / (ff * aa) : 0;
}

/** @param forceGrams force across @param accelerationG along the same axis, sample by sample @param perSec samples a second */
export function delayOf(
  forceGrams: readonly number[],
  accelerationG: readonly number[],
  perSec: number,
): DelayFound {
  const half = Math.round((SLOW_SEC * perSec) / 2);
  const [force, acceleration] = [quick(forceGrams, half), quick(accelerationG, half)];
  const movedG = Math.sqrt(mean(acceleration.map((a) => a * a)));
  const scores = Array.from({ length: LATEST - EARLIEST + 1 }, (_, i) =>
    explainedAt(force, acceleration, EARLIEST + i),
  );
  const explained = Math.max(...scores);
  const best = scores.indexOf(explained);
  const [before, after] = [scores[best - 1], scores[best + 1]];
  let shift = EARLIEST + best;
  if (before !== undefined && after !== undefined) {
    const bend = before - 2 * explained + after;
    if (bend < 0) shift += (0.5 * (before - after)) / bend;
  }
  return { delayMs: (1000 * shift) / perSec, explained, movedG };
}
