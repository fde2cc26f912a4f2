/** A store on a fresh database of the tests' server, closed when the test is over. */
import { onTestFinished } from 'vitest';
import type { StoreOptions } from '../../src/store/open-store.ts';
import type { DatabaseChoice } from '../../src/store/postgres/address.ts';
import { openStoreAt, type PostgresStore } from '../../src/store/postgres/postgres-store.ts';
import { NOW_MS } from './full-store.ts';
import type { TestPostgres } from './postgres.ts';

/** Address and password of a fresh database of this server. */
export function freshPlace(server: TestPostgres): DatabaseChoice & { name: string } {
  const { url, name } = server.freshDatabase();
  return { database: url, name, databasePasswordFile: server.passwordFile };
}

/** @returns a store open for recording */
export function recordingAt(place: DatabaseChoice, options: StoreOptions = {}): PostgresStore {
  const store = openStoreAt(place, {
    recording: true,
    softwareVersion: '0.1.0',
    nowMs: () => NOW_MS,
    ...options,
  });
  onTestFinished(() => store.close());
  return store;
}
