/** A table as Parquet (parquet.apache.org), written a row group at a time, so that a study of any size needs the same memory. */
import * as fs from 'node:fs';
import { ByteWriter, ParquetWriter } from 'hyparquet-writer';
import type { Column, TableDefinition } from '../../../research/export/dictionary.ts';
import { writeAll } from '../../../store/disk.ts';

export type Value = string | number | boolean | null;
/** Values of one column, one a row. */
export type ColumnValues = readonly Value[] | Int32Array | Float64Array;

/** Rows collected before they are written together. */
export const ROW_GROUP = 65_536;

const PHYSICAL = {
  string: { type: 'BYTE_ARRAY', converted_type: 'UTF8' },
  number: { type: 'DOUBLE' },
  integer: { type: 'INT32' },
  boolean: { type: 'BOOLEAN' },
} as const;

const elementOf = ({ name, type, required }: Column) => ({
  name,
  ...PHYSICAL[type],
  repetition_type: required ? ('REQUIRED' as const) : ('OPTIONAL' as const),
});

/** Metadata: the meaning of each column, as the table schema of the data package. */
const meaningOf = ({ columns, description }: TableDefinition): string =>
  JSON.stringify({
    description,
    fields: columns.map(({ name, type, unit, description: meaning }) => ({
      name,
      type,
      description: meaning,
      ...(unit !== null && { unit }),
    })),
  });

export class ParquetTable {
  readonly #table: TableDefinition;
  readonly #fd: number;
  readonly #bytes = new ByteWriter();
  readonly #parquet: ParquetWriter;
  #waiting: Value[][] = [];

  /** @param path of a file that does not exist yet */
  constructor(path: string, table: TableDefinition, createdBy: string) {
    this.#table = table;
    this.#fd = fs.openSync(path, 'wx', 0o600);
    this.#parquet = new ParquetWriter({
      writer: this.#bytes,
      schema: [{ name: 'root', num_children: table.columns.length }, ...table.columns.map(elementOf)],
      kvMetadata: [{ key: 'tableschema', value: meaningOf(table) }],
      createdBy,
    });
  }

  writeRow(row: Value[]): void {
    this.#waiting.push(row);
    if (this.#waiting.length >= ROW_GROUP) this.#flushRows();
  }

  /** @param columns in the order of the table */
  writeColumns(columns: readonly ColumnValues[]): void {
    this.#parquet.write({
      columnData: this.#table.columns.map(({ name, type, required }, i) => ({
        name,
        data: columns[i]! as Value[],
        // Successive counts differ little.
        ...(type === 'integer' && required && { encoding: 'DELTA_BINARY_PACKED' as const }),
      })),
      rowGroupSize: ROW_GROUP,
    });
    this.#drain();
  }

  finish(): void {
    this.#flushRows();
    this.#parquet.finish();
    this.#drain();
    fs.fsyncSync(this.#fd);
    this.close();
  }

  close(): void {
    fs.closeSync(this.#fd);
  }

  #flushRows(): void {
    if (this.#waiting.length === 0) return;
    const rows = this.#waiting;
    this.#waiting = [];
    this.writeColumns(this.#table.columns.map((_, i) => rows.map((row) => row[i]!)));
  }

  /** Writes the bytes made so far to disk; the library keeps counting positions in the file. */
  #drain(): void {
    writeAll(fs, this.#fd, new Uint8Array(this.#bytes.buffer, 0, this.#bytes.index));
    this.#bytes.index = 0;
  }
}
