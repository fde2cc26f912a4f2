/** Copies all rows of one place to another, and computes a hash over them. */
import { createHash, type Hash } from 'node:crypto';
import type { FeedDatabase, Statement } from '../database/feed-database.ts';
import { storeTables, type Table } from './tables.ts';

/** Setting that marks a move in progress and its source; it is not copied itself. */
export const MOVING = 'moving';
/** Rows sent in one message. */
const TOGETHER = 500;

/** Large tables are read feed by feed, so that at most one feed is in memory. */
const isByFeed = ({ key }: Table): boolean => key[0] === 'feed_no' && key.length > 1;

type Row = Record<string, unknown>;

function* rowsOf(database: FeedDatabase, table: Table): Generator<Row> {
  const { name, columns, key } = table;
  const order = `ORDER BY ${key.join(', ')}`;
  if (!isByFeed(table)) {
    const without = name === 'setting' ? `WHERE name <> '${MOVING}'` : '';
    yield* database.prepare<Row>(`SELECT ${columns.join(', ')} FROM ${name} ${without} ${order}`).all();
    return;
  }
  const ofFeed = database.prepare<Row>(
    `SELECT ${columns.join(', ')} FROM ${name} WHERE feed_no = ? ${order}`,
  );
  const feeds = database.prepare<{ no: number }>('SELECT no FROM feed ORDER BY no').all();
  for (const { no } of feeds) yield* ofFeed.all(no);
}

/** The engines return the same values in different types; this makes them equal. */
const plainValue = (value: unknown): unknown =>
  value instanceof ArrayBuffer
    ? Buffer.from(value)
    : value instanceof Uint8Array
      ? Buffer.from(value)
      : value;

function add(sum: Hash, table: Table, row: Row): void {
  const values = table.columns.map((column) => {
    const value = plainValue(row[column]);
    return Buffer.isBuffer(value) ? { hex: value.toString('hex') } : value;
  });
  sum.update(`${table.name} ${JSON.stringify(values)}\n`);
}

/** @returns SHA-256 over every row of every table */
export function sumOf(database: FeedDatabase): string {
  const sum = createHash('sha256');
  for (const table of storeTables()) for (const row of rowsOf(database, table)) add(sum, table, row);
  return sum.digest('hex');
}

/** Append-only tables are not emptied: their lines are the first of those that are copied. */
export function emptyTables(database: FeedDatabase): void {
  for (const { name } of storeTables()
    .reverse()
    .filter(({ isOnlyAddedTo }) => !isOnlyAddedTo))
    database.exec(`DELETE FROM ${name}${name === 'setting' ? ` WHERE name <> '${MOVING}'` : ''}`);
}

/** @returns names of tables that are not empty */
export const filledTables = (database: FeedDatabase): string[] =>
  storeTables()
    .filter(({ name }) => {
      const without = name === 'setting' ? `WHERE name <> '${MOVING}'` : '';
      return database.prepare(`SELECT 1 FROM ${name} ${without} LIMIT 1`).all().length > 0;
    })
    .map(({ name }) => name);

/** Inside a transaction of `to`. @returns the hash over the rows read */
export function copyRows(from: FeedDatabase, to: FeedDatabase, onFeed: () => void): string {
  const sum = createHash('sha256');
  for (const table of storeTables()) {
    const { name, columns } = table;
    const insert = to.prepare(
      `INSERT INTO ${name} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
    );
    let waiting = 0;
    const there = table.isOnlyAddedTo ? highestNo(to, name) : 0;
    for (const row of rowsOf(from, table)) {
      add(sum, table, row);
      if (Number(row.no) <= there) continue;
      put(
        insert,
        columns.map((column) => plainValue(row[column])),
        ++waiting % TOGETHER === 0,
      );
      if (name === 'feed') onFeed();
    }
  }
  return sum.digest('hex');
}

function highestNo(database: FeedDatabase, table: string): number {
  const sql = `SELECT coalesce(max(no), 0) AS no FROM ${table}`;
  return database.prepare<{ no: number }>(sql).all()[0]!.no;
}

function put(insert: Statement, values: unknown[], isLast: boolean): void {
  if (isLast || !insert.later) insert.run(...values);
  else insert.later(...values);
}
