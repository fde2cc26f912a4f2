/** Drops partitions (months) of captures that are empty for all sites. */
import type { FeedDatabase } from '../database/feed-database.ts';

const MONTHS = `SELECT child.relname AS name FROM pg_inherits JOIN pg_class child ON child.oid = inhrelid
  WHERE inhparent = 'capture_chunk'::regclass ORDER BY child.relname`;

/** @returns the partitions of captures, such as capture_2026_01 */
export const captureMonths = (database: FeedDatabase): string[] =>
  database
    .prepare<{ name: string }>(MONTHS)
    .all()
    .map(({ name }) => name);

/** A partition in use is skipped and dropped another time. @returns the dropped ones */
export function dropEmptyMonths(database: FeedDatabase, nowMs: number): string[] {
  const thisMonth = `capture_${new Date(nowMs).toISOString().slice(0, 7).replace('-', '_')}`;
  return captureMonths(database)
    .filter((name) => name < thisMonth)
    .filter((name) => {
      // Only VACUUM releases an empty table's file.
      database.exec(`VACUUM ${name}`);
      const sql = 'SELECT drop_capture_month(?) AS gone';
      const [row] = database.prepare<{ gone: boolean }>(sql).all(name);
      return row!.gone;
    });
}
