/** The raw counts of one session as Parquet, in a file of its own. */
import { readFileSync } from 'node:fs';
import { readCapture } from '../../../../firmware-bridge/links/capture-file.ts';
import { createSampleReader, type TimedSample } from '../../../../firmware-bridge/wire/index.ts';
import { TABLES } from '../../../research/export/dictionary.ts';
import { sha256Of } from '../sessions/session-result.ts';
import { ParquetTable, ROW_GROUP } from './parquet-table.ts';

export interface RawTableJob {
  session: string;
  capturePath: string;
  latchSec: number;
  out: string;
  createdBy: string;
}

export interface WrittenFile {
  bytes: number;
  sha256: string;
}

const RAW = TABLES.find(({ name }) => name === 'raw')!;

/** Time since the latch, s: the clock of the sleeve counts whole microseconds. */
export const sinceLatch = (atSec: number, latchSec: number): number => Number((atSec - latchSec).toFixed(6));

export function writeRawTable({ session, capturePath, latchSec, out, createdBy }: RawTableJob): WrittenFile {
  const table = new ParquetTable(out, RAW, createdBy);
  let waiting: TimedSample[] = [];
  const flush = (): void => {
    if (waiting.length > 0) table.writeColumns(columnsOf(session, waiting, latchSec));
    waiting = [];
  };
  const reader = createSampleReader((sample) => {
    waiting.push(sample);
    if (waiting.length === ROW_GROUP) flush();
  });
  reader.take(readCapture(capturePath).bytes);
  reader.end();
  flush();
  table.finish();
  const written = readFileSync(out);
  return { bytes: written.length, sha256: sha256Of(written) };
}

function columnsOf(session: string, samples: readonly TimedSample[], latchSec: number) {
  const integers = (of: (sample: TimedSample) => number): Int32Array => Int32Array.from(samples, of);
  return [
    Array<string>(samples.length).fill(session),
    integers(({ sequence }) => sequence),
    Float64Array.from(samples, ({ atSec }) => sinceLatch(atSec, latchSec)),
    ...[0, 1, 2].map((i) => integers(({ cells }) => cells[i]!)),
    ...[0, 1, 2].map((i) => integers(({ accelerometer }) => accelerometer[i]!)),
    ...[0, 1, 2].map((i) => samples.map(({ gyroscope }) => gyroscope?.[i] ?? null)),
    integers(({ flags }) => flags),
  ];
}
