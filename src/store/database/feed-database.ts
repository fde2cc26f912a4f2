/** The database interface used by all statements, for both engines. */

/** SQL with `?` for each value, in the words that SQLite and PostgreSQL share; the few that differ are translated (postgres/translate.ts). */
/** @typeParam Row what a row of it holds, as its SQL says: nothing else says so. */
export interface Statement<Row = unknown> {
  run(...values: unknown[]): { changes: number };
  all(...values: unknown[]): Row[];
  /** As `run` inside a transaction when the count is not needed: it may be sent together with the next statements. Absent: use `run`. */
  later?(...values: unknown[]): void;
}

export interface FeedDatabase {
  prepare<Row = unknown>(sql: string): Statement<Row>;
  exec(sql: string): void;
  readonly inTransaction: boolean;
  close(): void;
  /** Absent: those of SQLite. */
  readonly ways?: EngineWays;
}

/** Operations that differ between the engines. */
export interface EngineWays {
  /** Begins a transaction that may change anything; one at a time. */
  beginWrite(database: FeedDatabase): void;
  /** Begins one that adds to a feed of which this is the only writer; it does not wait for other feeds. */
  beginOfFeed(database: FeedDatabase): void;
  /** Begins a read-only one on a consistent snapshot. */
  beginRead(database: FeedDatabase): void;
  /** From now on deleted data are overwritten, if the engine supports it. */
  beforeDeleting(database: FeedDatabase): void;
  /** Rewrites the storage without the deleted data. @throws PlainError forget-busy */
  writeAnew(database: FeedDatabase, where: string): void;
  /** Call it before closing. */
  settle(database: FeedDatabase): void;
}
