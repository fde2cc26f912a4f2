/**
 * A study's Parquet, read back by two readers that did not write it (DuckDB, hyparquet): the values to the last bit, the types as
 * the dictionary says, and what is missing as null.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DuckDBInstance } from '@duckdb/node-api';
import { parse } from 'csv-parse/sync';
import { parquetMetadata, parquetReadObjects } from 'hyparquet';
import { describe, expect, it } from 'vitest';
import { exportStudy } from '../../src/app/study/export/study-export.ts';
import { computeSession, isSetAside, sessionInput } from '../../src/app/study/sessions/session-result.ts';
import { TABLES } from '../../src/research/export/dictionary.ts';
import { readTurning, samplesOf } from '../support/captures.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { ALONE, START_MS, studyHere } from '../support/study.ts';

type Row = Record<string, unknown>;

async function exported() {
  const here = studyHere();
  const { folder, store, study } = here;
  const turning = readTurning();
  recordFeed(store, { id: 'two', ...turning, startMs: START_MS + 60_000 });
  study.enroll('F07', 'all');
  for (const feed of ['one', 'two', 'gone']) study.bind(feed, 'F07');
  const out = join(folder, 'export');
  await exportStudy(study, store, ALONE, { out, raw: true, figures: false, softwareVersion: '9.9.9' });
  return { ...here, out, turning };
}

async function byDuckDb(query: string): Promise<Row[]> {
  const instance = await DuckDBInstance.create(':memory:', { threads: '1' });
  const connection = await instance.connect();
  try {
    return (await connection.runAndReadAll(query)).getRowObjects();
  } finally {
    connection.closeSync();
    instance.closeSync();
  }
}

const bufferOf = (path: string): ArrayBuffer => Uint8Array.from(readFileSync(path)).buffer;
const byHyparquet = (path: string): Promise<Row[]> => parquetReadObjects({ file: bufferOf(path) });

const CSV_TYPE: Record<string, (text: string) => unknown> = {
  string: (text) => text,
  number: Number,
  integer: Number,
  boolean: (text) => text === 'true',
};
const DUCKDB_TYPE: Record<string, string> = {
  string: 'VARCHAR',
  number: 'DOUBLE',
  integer: 'INTEGER',
  boolean: 'BOOLEAN',
};

describe('a study’s Parquet', () => {
  it('holds what was computed, to the last bit, for DuckDB and hyparquet alike', async () => {
    const { out, store, study } = await exported();
    const found = sessionInput(store, 'one', study.protocol);
    const computed = typeof found === 'string' ? found : computeSession(found.input);
    if (isSetAside(computed)) throw new Error(computed);
    const { refined, latchSec } = computed;
    const path = join(out, 'rows.parquet');
    for (const rows of [
      await byDuckDb(`SELECT * FROM '${path}' WHERE session = 'F07-001'`),
      (await byHyparquet(path)).filter(({ session }) => session === 'F07-001'),
    ]) {
      // toEqual goes by Object.is: no bit of a double may differ.
      expect(rows.map(({ milk_ml }) => milk_ml)).toEqual(refined.milkMl);
      expect(rows.map(({ milk_sd_ml }) => milk_sd_ml)).toEqual(refined.milkSdMl);
      expect(rows.map(({ intake_ml }) => intake_ml)).toEqual(refined.intakeMl);
      expect(rows.map(({ flow_ml_per_min }) => flow_ml_per_min)).toEqual(refined.flowMlPerMin);
      expect(rows.map(({ flow_sd_ml_per_min }) => flow_sd_ml_per_min)).toEqual(refined.flowSdMlPerMin);
      expect(rows.map(({ teat_in_mouth }) => teat_in_mouth)).toEqual(refined.teatInMouth);
      expect(rows.map(({ quality }) => quality)).toEqual(refined.quality);
      rows.forEach(({ at_s }, i) => {
        expect(at_s).toBeCloseTo(refined.atSec[i]! - latchSec, 6);
      });
    }
  });

  it('holds in every table what the CSV beside it holds, null where that is empty', async () => {
    const { out } = await exported();
    for (const { name, columns } of TABLES.filter((table) => table.name !== 'raw')) {
      const texts = parse(readFileSync(join(out, `${name}.csv`), 'utf8'), {
        columns: true,
      }) as Record<string, string>[];
      const wanted = texts.map((row) =>
        Object.fromEntries(
          columns.map((one) => [one.name, row[one.name] === '' ? null : CSV_TYPE[one.type]!(row[one.name]!)]),
        ),
      );
      const path = join(out, `${name}.parquet`);
      expect([name, await byDuckDb(`SELECT * FROM '${path}'`)]).toEqual([name, wanted]);
      expect([name, await byHyparquet(path)]).toEqual([name, wanted]);
    }
    const sessions = await byHyparquet(join(out, 'sessions.parquet'));
    expect(sessions[2]).toMatchObject({ intake_ml: null, told_known: null, set_aside: 'feed-missing' });
  });

  it('has the raw counts as they came, a gyroscope’s where there is one', async () => {
    const { out, turning, bytes } = await exported();
    expect(existsSync(join(out, 'raw/F07-003.parquet'))).toBe(false);
    for (const [session, capture] of [
      ['F07-001', bytes],
      ['F07-002', turning.bytes],
    ] as const) {
      const path = join(out, `raw/${session}.parquet`);
      const samples = samplesOf(capture) as unknown as (Row & { sequence: number; flags: number })[];
      for (const rows of [await byDuckDb(`SELECT * FROM '${path}'`), await byHyparquet(path)]) {
        const columns = (head: string, ends: readonly (string | number)[]) =>
          rows.map((row) => ends.map((end) => row[`${head}_${end}`]));
        // The test's reader does not return the last sample, which still waits for its motion.
        expect(samples.length).toBeGreaterThan(rows.length - 2);
        const first = rows.slice(0, samples.length);
        expect(first.map((row) => row.session)).toEqual(samples.map(() => session));
        expect(columns('load', [1, 2, 3]).slice(0, samples.length)).toEqual(samples.map((one) => one.cells));
        expect(columns('accel', ['x', 'y', 'z']).slice(0, samples.length)).toEqual(
          samples.map((one) => one.accelerometer),
        );
        expect(columns('gyro', ['x', 'y', 'z']).slice(0, samples.length)).toEqual(
          samples.map((one) => one.gyroscope ?? [null, null, null]),
        );
        expect(first.map(({ sample, flags }) => [sample, flags])).toEqual(
          samples.map(({ sequence, flags }) => [sequence, flags]),
        );
      }
    }
  });

  it('says of each column its type, whether it may be missing, and what it means', async () => {
    const { out } = await exported();
    const paths = TABLES.map((table) =>
      table.name === 'raw' ? 'raw/F07-001.parquet' : `${table.name}.parquet`,
    );
    for (const [i, path] of paths.entries()) {
      const { columns } = TABLES[i]!;
      const told = await byDuckDb(`DESCRIBE SELECT * FROM '${join(out, path)}'`);
      expect(told.map(({ column_name, column_type }) => [column_name, column_type])).toEqual(
        columns.map(({ name, type }) => [name, DUCKDB_TYPE[type]]),
      );
      const { schema, key_value_metadata, created_by } = parquetMetadata(bufferOf(join(out, path)));
      expect(schema.slice(1).map(({ name, repetition_type }) => [name, repetition_type])).toEqual(
        columns.map(({ name, required }) => [name, required ? 'REQUIRED' : 'OPTIONAL']),
      );
      expect(created_by).toBe('Ebbline 9.9.9');
      const { fields } = JSON.parse(key_value_metadata!.find(({ key }) => key === 'tableschema')!.value!);
      const dictionary = readFileSync(join(out, 'dictionary.md'), 'utf8');
      for (const { name, description } of fields)
        expect(dictionary).toMatch(
          new RegExp(`\\| ${name} \\|.*${description.slice(0, 20).replace(/[().*]/g, '.')}`),
        );
      expect(fields.length).toBe(columns.length);
    }
  });

  it('is in the data package with the sum of its bytes', async () => {
    const { out } = await exported();
    const { resources } = JSON.parse(readFileSync(join(out, 'datapackage.json'), 'utf8'));
    const { createHash } = await import('node:crypto');
    const sum = (path: string) =>
      `sha256:${createHash('sha256')
        .update(readFileSync(join(out, path)))
        .digest('hex')}`;
    const parquet = resources.filter(({ format }: { format: string }) => format === 'parquet');
    expect(parquet.map(({ name }: { name: string }) => name)).toEqual([
      ...TABLES.map(({ name }) => `${name}-parquet`),
    ]);
    for (const { path, hash, hashes } of parquet) {
      if (typeof path === 'string') expect(sum(path)).toBe(hash);
      else for (const one of path) expect(sum(one)).toBe(hashes[one]);
    }
  });
});
