import Libsql from 'libsql';
import { PlainError } from '../../base/errors.ts';
import { quietly } from '../disk.ts';
import { plainly } from '../faults.ts';
import type { EngineWays, FeedDatabase } from './feed-database.ts';
import { MIGRATIONS } from './migrations.ts';
import { onlyAddedToSql } from './only-added-to.ts';

/** "EBBL" in ASCII, in the file's header: identifies our database. */
const APPLICATION_ID = 0x4542424c;
/** How long to wait for another command that is writing. */
const BUSY_TIMEOUT_MS = 3000;

/** As it lies there, neither looked at nor changed. @param file  ':memory:' for one that lies nowhere */
export const rawDatabase = (file: string): FeedDatabase => new Libsql(file) as unknown as FeedDatabase;

/**
 * Opens or creates the database and migrates it to the newest version. Durable settings: write-ahead log, synced on every commit.
 * @throws PlainError store-newer, store-foreign, store-damaged, store-folder, store-full; then nothing was changed
 */
export function openDatabase(file: string, nowMs: () => number = Date.now): FeedDatabase {
  const database = plainly(file, () => rawDatabase(file));
  try {
    plainly(file, () => {
      database.exec(`PRAGMA busy_timeout = ${BUSY_TIMEOUT_MS}`);
      refuseWhatIsNotOurs(database, file);
      database.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON');
      migrate(database, nowMs());
    });
  } catch (error) {
    database.close();
    throw error;
  }
  return database;
}

/** Closes it and merges the write-ahead log, so that one file has everything. */
export function closeDatabase(database: FeedDatabase): void {
  try {
    waysOf(database).settle(database);
  } catch {
    // Busy or full: the log stays beside the file, and SQLite reads both.
  }
  database.close();
}

/** @returns a number from SQLite's pragma: user_version, application_id, synchronous … */
export function readPragma(database: FeedDatabase, name: string): number {
  const [row] = database.prepare<Record<string, number>>(`PRAGMA ${name}`).all();
  return row![name]!;
}

/** @returns 'ok', or the first thing that is wrong with the file */
export function quickCheck(database: FeedDatabase): string {
  const sql = 'SELECT quick_check AS verdict FROM pragma_quick_check(1)';
  return database.prepare<{ verdict: string }>(sql).all()[0]!.verdict;
}

/** @param of  table and condition @returns how many lines */
export const countIn = (database: FeedDatabase, of: string, ...values: unknown[]): number =>
  database.prepare<{ n: number }>(`SELECT count(*) AS n FROM ${of}`).all(...values)[0]!.n;

/** Databases inside one of the transactions below. */
const inOurs = new WeakSet<FeedDatabase>();

/** Whether one of these transactions runs on it now. */
export const isOursNow = (database: FeedDatabase): boolean => inOurs.has(database);

/** Runs `action` in one write transaction: all or nothing is stored. Inside another transaction it is part of that. */
export const inTransaction = <T>(database: FeedDatabase, action: () => T): T =>
  between(database, 'beginWrite', action);

/** As `inTransaction`, if everything written belongs to one feed that has no other writer. */
export const inFeed = <T>(database: FeedDatabase, action: () => T): T =>
  between(database, 'beginOfFeed', action);

/** Runs the read-only `action` on a consistent snapshot. */
export const asOfNow = <T>(database: FeedDatabase, action: () => T): T =>
  between(database, 'beginRead', action);

const SQLITE: EngineWays = {
  beginWrite: (database) => database.exec('BEGIN IMMEDIATE'),
  beginOfFeed: (database) => database.exec('BEGIN IMMEDIATE'),
  beginRead: (database) => database.exec('BEGIN'),
  beforeDeleting: (database) => database.exec('PRAGMA secure_delete = ON'),
  /** Rewrites the file without free pages, and empties the log. */
  writeAnew(database, where) {
    database.exec('VACUUM');
    const [log] = database.prepare<{ busy: number }>('PRAGMA wal_checkpoint(TRUNCATE)').all();
    if (log!.busy === 0) return;
    throw new PlainError(
      'forget-busy',
      `The baby is deleted, but another program reads ${where}, so that traces may be left in the log beside the database.`,
      'Close the other one and list the feeds once: ebbline feeds.',
    );
  },
  settle: (database) => database.exec('PRAGMA wal_checkpoint(TRUNCATE)'),
};

export const waysOf = (database: FeedDatabase): EngineWays => database.ways ?? SQLITE;

function between<T>(
  database: FeedDatabase,
  begin: 'beginWrite' | 'beginOfFeed' | 'beginRead',
  action: () => T,
): T {
  if (inOurs.has(database)) return action();
  endLeftover(database);
  waysOf(database)[begin](database);
  inOurs.add(database);
  try {
    const result = action();
    database.exec('COMMIT');
    return result;
  } catch (error) {
    // A transaction that cannot be rolled back now is rolled back before the next statement.
    quietly(() => rollBack(database));
    throw error;
  } finally {
    inOurs.delete(database);
  }
}

/** Ends a transaction that could not be rolled back (the disk was away); otherwise later writes would become part of it. */
export function endLeftover(database: FeedDatabase): void {
  if (!inOurs.has(database)) rollBack(database);
}

/** SQLite itself has rolled back already after some errors, such as a full disk. */
function rollBack(database: FeedDatabase): void {
  if (database.inTransaction) database.exec('ROLLBACK');
}

function refuseWhatIsNotOurs(database: FeedDatabase, file: string): void {
  const applicationId = readPragma(database, 'application_id');
  const version = readPragma(database, 'user_version');
  const isEmpty = database.prepare('SELECT name FROM sqlite_schema LIMIT 1').all().length === 0;
  if (applicationId !== APPLICATION_ID && !(isEmpty && applicationId === 0 && version === 0)) {
    throw new PlainError(
      'store-foreign',
      `The file ${file} is not an Ebbline database. It was left as it is.`,
      'Move it away, or set EBBLINE_DATA to another folder.',
    );
  }
  if (version > MIGRATIONS.length) {
    throw new PlainError(
      'store-newer',
      `The feeds in ${file} were kept by a newer Ebbline (data version ${version}; this one knows ${MIGRATIONS.length}). Nothing was changed.`,
      'Update Ebbline, or set EBBLINE_DATA to another folder.',
    );
  }
}

function migrate(database: FeedDatabase, nowMs: number): void {
  if (readPragma(database, 'user_version') === MIGRATIONS.length) return;
  inTransaction(database, () => {
    // Read again inside the transaction, since another process may have migrated it.
    for (let version = readPragma(database, 'user_version'); version < MIGRATIONS.length; version++) {
      const step = MIGRATIONS[version]!;
      if (typeof step === 'string') database.exec(step);
      else if (typeof step === 'function') step(database, nowMs);
      else database.exec(onlyAddedToSql(step));
      database.exec(`PRAGMA user_version = ${version + 1}`);
    }
    database.exec(`PRAGMA application_id = ${APPLICATION_ID}`);
  });
}
