/** PostgreSQL behind the common database interface: one site's rows, through a synchronous connection. */
import { randomInt } from 'node:crypto';
import { PlainError } from '../../base/errors.ts';
import { inTransaction, isOursNow } from '../database/database.ts';
import type { EngineWays, FeedDatabase, Statement } from '../database/feed-database.ts';
import { MIGRATIONS } from '../database/migrations.ts';
import type { RenewedDatabase } from '../database/renewed.ts';
import type { DatabaseAddress } from './address.ts';
import { AFTER, BEFORE } from './own-schema.ts';
import { type Sent, ServerConnection } from './server-connection.ts';
import { schemaFor, statementFor } from './translate.ts';

/** The oldest supported version. */
const OLDEST = { number: 150_000, name: '15' };
/** How long to wait for a lock of another process; a recorder waits less. */
const LOCK_MS = { reading: 3000, recording: 200 };
/** Longest call during recording, even if the server does not answer. */
const RECORDING_WAIT_MS = 1000;
/** Class of the locks that show which writers are alive. */
export const WRITERS = 1_161_970_252;

export interface PostgresDatabase extends RenewedDatabase {
  /** Number of this connection; it identifies the writer of a feed. */
  readonly writer: number;
  /** Shortens all waiting from now on. */
  hurry(): void;
}

const WAYS: EngineWays = {
  // One write transaction at a time within the site, as SQLite has it within its file.
  beginWrite: (database) =>
    database.exec(
      `BEGIN; SELECT pg_advisory_xact_lock(hashtext('ebbline'), hashtext(current_setting('ebbline.site')))`,
    ),
  beginOfFeed: (database) => database.exec('BEGIN'),
  beginRead: (database) => database.exec('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY'),
  beforeDeleting: () => {},
  // Removes dead rows from the tables. Logs and backups of the server keep them until they expire.
  writeAnew: (database) => database.exec('VACUUM'),
  settle: () => {},
};

/** @throws PlainError database-away, database-refused, database-certificate, database-old, store-newer, store-foreign, database-all-rights … */
export function openPostgres(address: DatabaseAddress): PostgresDatabase {
  const writer = randomInt(1, 2 ** 31);
  const database = new Postgres(address, writer);
  try {
    refuseUnfit(database, address);
    migrate(database, address);
  } catch (error) {
    database.close();
    throw error;
  }
  return database;
}

class Postgres implements PostgresDatabase {
  readonly ways = WAYS;
  readonly #connection: ServerConnection;
  readonly #names = new Map<string, string>();
  /** Statements of the running transaction that are sent with the next one whose answer is needed. */
  #waiting: Sent[] = [];
  #inTransaction = false;

  constructor(
    address: DatabaseAddress,
    readonly writer: number,
  ) {
    this.#connection = new ServerConnection(address, [
      { sql: "SELECT set_config('ebbline.site', $1, false)", values: [address.site] },
      { sql: `SET lock_timeout = ${LOCK_MS.reading}` },
      { sql: 'SET client_min_messages = error' },
      { sql: 'SELECT pg_advisory_lock($1, $2)', values: [WRITERS, writer] },
    ]);
  }

  ready(): void {
    if (!isOursNow(this)) this.#connection.ready();
  }

  hurry(): void {
    this.#connection.ask([{ sql: `SET lock_timeout = ${LOCK_MS.recording}` }]);
    this.#connection.hurry(RECORDING_WAIT_MS);
  }

  get inTransaction(): boolean {
    return this.#inTransaction;
  }

  exec(sql: string): void {
    if (sql.startsWith('BEGIN')) {
      this.#waiting = [{ sql }];
      this.#inTransaction = true;
      return;
    }
    // Statements that were never sent need no rollback.
    const isUnsent = this.#waiting[0]?.sql.startsWith('BEGIN') ?? false;
    if (sql === 'ROLLBACK') this.#waiting = [];
    if (sql !== 'ROLLBACK' || !isUnsent) this.#send({ sql });
    // A transaction that could not be ended is rolled back before anything else.
    if (sql === 'COMMIT' || sql === 'ROLLBACK') this.#inTransaction = false;
  }

  prepare<Row>(sql: string): Statement<Row> {
    const text = statementFor(sql);
    const name = this.#nameOf(text);
    const sent = (values: unknown[]): Sent => ({ sql: text, name, values: values.map(asSent) });
    return {
      run: (...values) => ({ changes: this.#send(sent(values)).changes }),
      all: (...values) => this.#send(sent(values)).rows as Row[],
      later: (...values) => {
        if (this.#inTransaction) this.#waiting.push(sent(values));
        else this.#send(sent(values));
      },
    };
  }

  close(): void {
    // The server notices a closed connection a little later; whoever asks next must not see its feeds as still written.
    if (this.#connection.isThere && !this.#inTransaction) this.#release();
    this.#connection.close();
  }

  #release(): void {
    try {
      this.#connection.ask([{ sql: 'SELECT pg_advisory_unlock($1, $2)', values: [WRITERS, this.writer] }]);
    } catch {
      // Then the server releases it with the connection.
    }
  }

  #nameOf(text: string): string {
    const known = this.#names.get(text) ?? `s${this.#names.size}`;
    this.#names.set(text, known);
    return known;
  }

  #send(last: Sent) {
    const statements = [...this.#waiting, last];
    this.#waiting = [];
    try {
      return this.#connection.ask(statements);
    } catch (error) {
      // The transaction ended with its connection.
      if (!this.#connection.isThere) this.#inTransaction = false;
      throw error;
    }
  }
}

const asSent = (value: unknown): unknown => (typeof value === 'boolean' ? Number(value) : value);

const oneOf = <T>(database: FeedDatabase, sql: string): T => database.prepare<T>(sql).all()[0]!;

function refuseUnfit(database: FeedDatabase, { label, user }: DatabaseAddress): void {
  const { version, seesall } = oneOf<{ version: number; seesall: boolean }>(
    database,
    `SELECT current_setting('server_version_num')::int AS version, rolsuper OR rolbypassrls AS seesall
     FROM pg_roles WHERE rolname = current_user`,
  );
  if (version < OLDEST.number)
    throw new PlainError(
      'database-old',
      `The server of ${label} is PostgreSQL ${Math.floor(version / 10_000)}; at least ${OLDEST.name} is needed.`,
      'Bring it to a newer version.',
    );
  if (seesall)
    throw new PlainError(
      'database-all-rights',
      `The user ${user} may see every row in ${label}, so that sites would mix.`,
      'Use a login of its own that owns the database and is no administrator.',
    );
}

interface Versions {
  shared: number;
  own: number;
}

function versionsOf(database: FeedDatabase, label: string): Versions | null {
  const { ours, others } = oneOf<{ ours: boolean; others: number }>(
    database,
    `SELECT to_regclass('ebbline_version') IS NOT NULL AS ours,
     (SELECT count(*) FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'p', 'v')) AS others`,
  );
  if (ours) return oneOf<Versions>(database, 'SELECT shared, own FROM ebbline_version');
  if (others === 0) return null;
  throw new PlainError(
    'store-foreign',
    `The database ${label} holds tables of another program. It was left as it is.`,
    'Use an empty database for the feeds.',
  );
}

function migrate(database: FeedDatabase, { label }: DatabaseAddress): void {
  const isNewest = ({ shared, own }: Versions): boolean =>
    shared === MIGRATIONS.length && own === AFTER.length;
  const found = versionsOf(database, label);
  if (found && (found.shared > MIGRATIONS.length || found.own > AFTER.length))
    throw new PlainError(
      'store-newer',
      `The feeds in ${label} were kept by a newer Ebbline (data version ${found.shared}; this one knows ${MIGRATIONS.length}). Nothing was changed.`,
      'Update Ebbline.',
    );
  if (found && isNewest(found)) return;
  inTransaction(database, () => {
    // Another process may have done it already.
    database.exec(`SELECT pg_advisory_xact_lock(${WRITERS}, 0)`);
    const before = versionsOf(database, label);
    if (!before) {
      database.exec(BEFORE);
      database.exec('CREATE TABLE ebbline_version (shared integer NOT NULL, own integer NOT NULL)');
      database.exec('INSERT INTO ebbline_version VALUES (0, 0)');
    }
    const { shared, own } = before ?? { shared: 0, own: 0 };
    // Steps that are functions change records older than any in PostgreSQL.
    for (const step of MIGRATIONS.slice(shared)) if (typeof step === 'string') database.exec(schemaFor(step));
    for (const step of AFTER.slice(own)) database.exec(step);
    database.exec(`UPDATE ebbline_version SET shared = ${MIGRATIONS.length}, own = ${AFTER.length}`);
  });
}
