/** The raw counts of one session as Parquet, in a file of its own. */
import { readFileSync } from 'node:fs';
import { readCapture } from '../../../../firmware-bridge/links/capture-file.ts';
import { createSampleReader, type TimedSample } from '../../../../firmware-bridge/wire/index.ts';
import { TABLES } from '../../../research/export/dictionary.ts';
import { sha256Of } from '../sessions/session-result.ts';
import { type ColumnValues, ParquetTable, ROW_GROUP } from './parquet-table.ts';

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
  const group = new SampleColumns(session, latchSec);
  const flush = (): void => {
    if (group.count > 0) table.writeColumns(group.columns());
    group.count = 0;
  };
  const reader = createSampleReader((sample) => {
    group.add(sample);
    if (group.count === ROW_GROUP) flush();
  });
  reader.take(readCapture(capturePath).bytes);
  reader.end();
  flush();
  table.finish();
  const written = readFileSync(out);
  return { bytes: written.length, sha256: sha256Of(written) };
}

const AXES = [0, 1, 2] as const;
const integers = (): Int32Array => new Int32Array(ROW_GROUP);

/** A row group in the order of the table, filled sample by sample: a study has a hundred million of them. */
class SampleColumns {
  count = 0;
  readonly #sequence = integers();
  readonly #sinceLatch = new Float64Array(ROW_GROUP);
  readonly #cells = AXES.map(integers);
  readonly #accelerometer = AXES.map(integers);
  readonly #gyroscope = AXES.map(() => new Array<number | null>(ROW_GROUP).fill(null));
  readonly #flags = integers();

  constructor(
    private readonly session: string,
    private readonly latchSec: number,
  ) {}

  add({ sequence, atSec, cells, accelerometer, gyroscope, flags }: TimedSample): void {
    const row = this.count++;
    this.#sequence[row] = sequence;
    this.#sinceLatch[row] = sinceLatch(atSec, this.latchSec);
    for (const i of AXES) {
      this.#cells[i]![row] = cells[i]!;
      this.#accelerometer[i]![row] = accelerometer[i]!;
      this.#gyroscope[i]![row] = gyroscope?.[i] ?? null;
    }
    this.#flags[row] = flags;
  }

  /** Valid until the next `add`. */
  columns(): ColumnValues[] {
    const filled = <T extends Int32Array | Float64Array | (number | null)[]>(values: T) =>
      values.length === this.count ? values : values.slice(0, this.count);
    return [
      Array<string>(this.count).fill(this.session),
      ...[this.#sequence, this.#sinceLatch, ...this.#cells, ...this.#accelerometer].map(filled),
      ...this.#gyroscope.map(filled),
      filled(this.#flags),
    ];
  }
}
