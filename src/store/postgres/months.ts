/** Months of captures in which nothing is kept any more, by no site, are let go as a whole. */
import type { FeedDatabase } from '../database/feed-database.ts';

const MONTHS = `SELECT child.relname AS name FROM pg_inherits JOIN pg_class child ON child.oid = inhrelid
  WHERE inhparent = 'capture_chunk'::regclass ORDER BY child.relname`;

/** @returns months that a capture may lie in, such as capture_2026_01 */
export const captureMonths = (database: FeedDatabase): string[] =>
  database
    .prepare<{ name: string }>(MONTHS)
    .all()
    .map(({ name }) => name);

/** Housekeeping: one that somebody uses just now goes another time. @returns those that went */
export function dropEmptyMonths(database: FeedDatabase, nowMs: number): string[] {
  const thisMonth = `capture_${new Date(nowMs).toISOString().slice(0, 7).replace('-', '_')}`;
  return captureMonths(database)
    .filter((name) => name < thisMonth)
    .filter((name) => {
      // Only this takes an empty table's file away.
      database.exec(`VACUUM ${name}`);
      const sql = 'SELECT drop_capture_month(?) AS gone';
      const [row] = database.prepare<{ gone: boolean }>(sql).all(name);
      return row!.gone;
    });
}
