/** What the statements about feeds need of a database, whichever engine keeps it. */

/** SQL with `?` for each value, in the words that SQLite and PostgreSQL share; the few that differ are translated (postgres/translate.ts). */
/** @typeParam Row what a row of it holds, as its SQL says: nothing else says so. */
export interface Statement<Row = unknown> {
  run(...values: unknown[]): { changes: number };
  all(...values: unknown[]): Row[];
  /** As `run` inside a transaction, for whom the count does not matter: may be handed on together with what follows. Absent: `run`. */
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

/** What each engine does in its own way. */
export interface EngineWays {
  /** Begins a transaction that may change anything; one at a time. */
  beginWrite(database: FeedDatabase): void;
  /** Begins one that adds to a feed whose only writer this is; it waits for no other feed's. */
  beginOfFeed(database: FeedDatabase): void;
  /** Begins one that sees everything as of one moment. */
  beginRead(database: FeedDatabase): void;
  /** From now on what is deleted is overwritten, where the engine can do so. */
  beforeDeleting(database: FeedDatabase): void;
  /** Writes anew what lay beside what was deleted. @throws PlainError forget-busy */
  writeAnew(database: FeedDatabase, where: string): void;
  /** Before it is closed. */
  settle(database: FeedDatabase): void;
}
