/**
 * From a recording of one cell to the figures of the results file. Pure; `npx tsx hardware/first-measurement/reduce.ts KIND FILE.csv
 * COUNTS_PER_GRAM` prints one part of the file. KIND is rest, creep or warmth; the CSV has a header `sec,counts`.
 */
import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { PlainError } from '../../src/base/errors.ts';

export interface Recording {
  readonly perSec: number;
  readonly grams: readonly number[];
}

const mean = (values: readonly number[]): number => values.reduce((sum, v) => sum + v, 0) / values.length;
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

const stretches = (values: readonly number[], length: number): number[][] =>
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

/** @throws PlainError MEASURED_ROW naming the first row that is no pair of numbers */
export function recordingFrom(csv: string, countsPerGram: number): Recording {
  const rows = parse(csv, { columns: true, skip_empty_lines: true }) as { sec?: string; counts?: string }[];
  const points = rows.map(({ sec, counts }, i): [number, number] => {
    const point: [number, number] = [Number(sec ?? Number.NaN), Number(counts ?? Number.NaN)];
    if (!point.every(Number.isFinite))
      throw new PlainError(
        'MEASURED_ROW',
        `Row ${i + 2} is no pair sec,counts.`,
        'Mend the row or leave it out.',
      );
    return point;
  });
  const lasts = (points[points.length - 1]?.[0] ?? 0) - (points[0]?.[0] ?? 0);
  return { perSec: (points.length - 1) / lasts, grams: points.map(([, counts]) => counts / countsPerGram) };
}

const KINDS = { rest: restOf, creep: creepOf, warmth: warmthOf } as const;

if (process.argv[1] === new URL(import.meta.url).pathname) {
  const [kind, file, countsPerGram] = process.argv.slice(2);
  const of = KINDS[kind as keyof typeof KINDS];
  if (!of || !file || !(Math.abs(Number(countsPerGram)) > 0)) {
    console.error(`Say: ${Object.keys(KINDS).join(', ')}; a CSV file; counts per gram.`);
    process.exit(2);
  }
  try {
    const recording = recordingFrom(readFileSync(file, 'utf8'), Number(countsPerGram));
    console.log(JSON.stringify({ [kind!]: of(recording) }, null, 2));
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    console.error(`${error.message} ${error.remedy}`);
    process.exit(1);
  }
}
