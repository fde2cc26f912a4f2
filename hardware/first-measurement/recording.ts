/** Figures of a recording of one cell: at rest, under a load that is left on, beside a warm bottle. Pure. */
import { PlainError } from '../../src/base/errors.ts';

export interface Recording {
  readonly perSec: number;
  readonly grams: readonly number[];
}

export const mean = (values: readonly number[]): number =>
  values.reduce((sum, v) => sum + v, 0) / values.length;
const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

/** What is left of a stretch once its straight line is taken off. */
function levelled(values: readonly number[]): number[] {
  const [mx, my] = [(values.length - 1) / 2, mean(values)];
  let [sxy, sxx] = [0, 0];
  values.forEach((value, x) => {
    sxy += (x - mx) * (value - my);
    sxx += (x - mx) ** 2;
  });
  return values.map((value, x) => value - my - (sxy / sxx) * (x - mx));
}

export const stretches = (values: readonly number[], length: number): number[][] =>
  Array.from({ length: Math.floor(values.length / length) }, (_, i) =>
    values.slice(i * length, (i + 1) * length),
  );

/** @throws PlainError MEASURED_SHORT when the recording is shorter than `sec` */
function longEnough({ grams, perSec }: Recording, sec: number): void {
  if (grams.length < sec * perSec)
    throw new PlainError(
      'MEASURED_SHORT',
      `The recording has ${Math.floor(grams.length / perSec)} s; this needs ${sec} s.`,
      'Record longer.',
    );
}

/** Nothing on the cell, nothing touched: ten minutes and more. */
export function restOf(recording: Recording): { sdGrams: number; lag1: number; over60SecSdGrams: number } {
  longEnough(recording, 300);
  const { grams, perSec } = recording;
  const spells = stretches(grams, Math.round(10 * perSec)).map(levelled);
  const squares = spells.map((spell) => mean(spell.map((v) => v * v)));
  const lags = spells.map((spell) => mean(spell.slice(1).map((v, i) => v * spell[i]!)));
  const seconds = stretches(grams, Math.round(perSec)).map(mean);
  const differences = seconds.slice(60).map((v, i) => v - seconds[i]!);
  return {
    sdGrams: Math.sqrt(median(squares)),
    lag1: median(lags.map((lag, i) => lag / squares[i]!)),
    over60SecSdGrams: Math.sqrt(mean(differences.map((v) => v * v))),
  };
}

/** Time after which a share of the way from `first` to `last` is done, of means over a second. */
function timeOf(seconds: readonly number[], first: number, last: number, share: number): number {
  const goal = first + share * (last - first);
  const up = last > first;
  return Math.max(
    1,
    seconds.findIndex((v) => (up ? v >= goal : v <= goal)),
  );
}

/** A load put on at the recording's start (the recording begins 2 s after it stands still), left for ten minutes. */
export function creepOf(
  recording: Recording,
  zeroGrams = 0,
): { loadGrams: number; atOnceGrams: number; lateGrams: number; halfAfterSec: number } {
  longEnough(recording, 300);
  const seconds = stretches(recording.grams, Math.round(recording.perSec)).map((s) => mean(s) - zeroGrams);
  const [atOnce, late] = [mean(seconds.slice(0, 2)), mean(seconds.slice(-20))];
  return {
    loadGrams: late,
    atOnceGrams: atOnce,
    lateGrams: late,
    halfAfterSec: timeOf(seconds, atOnce, late, 0.5),
  };
}

/** A warm bottle laid beside the cell, not on it, at the recording's start; until the zero no longer moves. */
export function warmthOf(recording: Recording): { zeroMovedGrams: number; tauSec: number } {
  longEnough(recording, 300);
  const seconds = stretches(recording.grams, Math.round(recording.perSec)).map(mean);
  const [first, last] = [mean(seconds.slice(0, 5)), mean(seconds.slice(-20))];
  return { zeroMovedGrams: last - first, tauSec: timeOf(seconds, first, last, 1 - Math.exp(-1)) };
}
