import type { FeedDatabase } from '../database/feed-database.ts';

/** Lines of a statement whose columns are named as the fields of `T`. */
export const rowsOf = <T>(database: FeedDatabase, sql: string, values: readonly unknown[]): T[] =>
  database.prepare<T>(sql).all(...values);
