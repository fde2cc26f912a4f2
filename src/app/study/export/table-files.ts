/** One table of an export, as CSV and as Parquet side by side, written a row at a time. */
import { createHash } from 'node:crypto';
import * as fs from 'node:fs';
import { join } from 'node:path';
import { stringify } from 'csv-stringify/sync';
import type { PackagedFile } from '../../../research/export/data-package.ts';
import type { TableDefinition } from '../../../research/export/dictionary.ts';
import { writeAll } from '../../../store/disk.ts';
import { ParquetTable, type Value } from './parquet-table.ts';

export class TableFiles {
  readonly #table: TableDefinition;
  readonly #folder: string;
  readonly #csv: number;
  readonly #parquet: ParquetTable;
  #waiting: Value[][] = [];

  constructor(folder: string, table: TableDefinition, createdBy: string) {
    this.#table = table;
    this.#folder = folder;
    this.#csv = fs.openSync(join(folder, `${table.name}.csv`), 'wx', 0o600);
    this.#parquet = new ParquetTable(join(folder, `${table.name}.parquet`), table, createdBy);
    this.#add([table.columns.map(({ name }) => name)]);
  }

  write(row: Value[]): void {
    this.#parquet.writeRow(row);
    this.#waiting.push(row);
    if (this.#waiting.length >= 5000) this.#flush();
  }

  finish(): PackagedFile[] {
    this.#flush();
    fs.fsyncSync(this.#csv);
    fs.closeSync(this.#csv);
    this.#parquet.finish();
    return (['csv', 'parquet'] as const).map((format) => {
      const path = `${this.#table.name}.${format}`;
      return { table: this.#table, format, path, ...sumOf(join(this.#folder, path)) };
    });
  }

  #flush(): void {
    this.#add(this.#waiting);
    this.#waiting = [];
  }

  #add(rows: Value[][]): void {
    // Booleans as in the data package's standard. Codes cannot contain text that a spreadsheet would take for a formula.
    const text = stringify(rows, {
      cast: { boolean: (value) => (value ? 'true' : 'false') },
      record_delimiter: '\r\n',
    });
    writeAll(fs, this.#csv, Buffer.from(text));
  }
}

const PIECE_BYTES = 2 ** 20;

function sumOf(path: string): { bytes: number; sha256: string } {
  const hash = createHash('sha256');
  const piece = Buffer.alloc(PIECE_BYTES);
  const fd = fs.openSync(path, 'r');
  let bytes = 0;
  for (let count = 1; count > 0; bytes += count) {
    count = fs.readSync(fd, piece, 0, PIECE_BYTES, null);
    hash.update(piece.subarray(0, count));
  }
  fs.closeSync(fd);
  return { bytes, sha256: hash.digest('hex') };
}
