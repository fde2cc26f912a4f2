/**
 * From a recording of one cell to the figures of the results file. Pure; `npx tsx hardware/first-measurement/reduce.ts KIND FILE.csv
 * COUNTS_PER_GRAM` prints one part of the file. KIND is rest, creep or warmth; the CSV has a header `sec,counts`.
 */
import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { PlainError } from '../../src/base/errors.ts';
import { creepOf, type Recording, restOf, warmthOf } from './recording.ts';

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
