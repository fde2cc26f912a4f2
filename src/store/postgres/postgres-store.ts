/** The store on PostgreSQL: the same interface as for a data folder. */
import { FeedStore } from '../feed-store.ts';
import type { StoreOptions } from '../open-store.ts';
import type { HeldFolder } from '../portable/held-folder.ts';
import { type DatabaseAddress, type DatabaseChoice, databaseAddress } from './address.ts';
import { admit, dismiss, type Grant } from './grants.ts';
import { dropEmptyMonths } from './months.ts';
import { PostgresCaptures } from './postgres-captures.ts';
import { openPostgres, type PostgresDatabase } from './postgres-database.ts';
import { sideRows } from './side-rows.ts';

/**
 * Opens the feeds of one site in a PostgreSQL database, which is set up if it is empty. Everything of `openStore` works on it; in addition:
 *
 *   - Any number of processes may record different feeds of a site at once. Each feed has one writer; `unfinished` lists feeds whose writer
 *     is gone, and `takeOver` continues one.
 *   - A recorder waits at most a second. While the database does not answer, calls fail at once with `database-away`: keep the
 *     part in memory and hand it in again, as with a full disk.
 *   - `capturePath` gives a temporary file, which is removed when the store is closed.
 *
 * @param choice  address, site, where the password is (see DatabaseChoice); `{ database: 'postgres://ebbline@db.example/feeds', site: 'north' }`
 * @throws PlainError database-address, database-refused, database-certificate, database-old, database-all-rights, database-away, store-newer …
 */
export function openStoreAt(
  choice: DatabaseChoice | DatabaseAddress,
  options: Omit<StoreOptions, 'disk' | 'open'> = {},
): PostgresStore {
  const address = 'label' in choice ? choice : databaseAddress(choice);
  const database = openPostgres(address);
  try {
    const store = new PostgresStore(address, database, options);
    if (options.recording) {
      store.settleLeftovers();
      database.hurry();
    }
    return store;
  } catch (error) {
    database.close();
    throw error;
  }
}

/** One site as a place to archive from or to import into. @throws PlainError as `openStoreAt` */
export function holdSite(choice: DatabaseChoice): HeldFolder & { letMonthsGo(nowMs: number): string[] } {
  const address = databaseAddress(choice);
  const database = openPostgres(address);
  const captures = new PostgresCaptures(database);
  return {
    folder: address.label,
    database,
    captures,
    letMonthsGo: (nowMs) => dropEmptyMonths(database, nowMs),
    close() {
      captures.close();
      database.close();
    },
  };
}

export class PostgresStore extends FeedStore {
  /** Use `openStoreAt`. */
  constructor(
    readonly address: DatabaseAddress,
    database: PostgresDatabase,
    { recording, softwareVersion = 'unknown', nowMs = Date.now, packsLater = false }: StoreOptions,
  ) {
    const captures = new PostgresCaptures(database);
    const { label } = address;
    const unlock = recording ? () => {} : null;
    const files = sideRows(database, label);
    super(label, database, captures, unlock, softwareVersion, nowMs, packsLater, files);
  }

  /** Gives a login access to rows of this site. @throws PlainError grant-invalid */
  admit(grant: Grant): void {
    this.safely(() => admit(this.database, grant));
  }

  /** Revokes access given by `admit`. */
  dismiss(grant: Omit<Grant, 'code'>): void {
    this.safely(() => dismiss(this.database, grant));
  }
}
