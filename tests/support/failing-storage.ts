/**
 * A disk and a database that fail on request, for `openStore`: the real node:fs and the real SQLite behind a switch. A call
 * may be refused, or done and reported as failed, as a network share may do.
 */
import * as fs from 'node:fs';
import { createRequire } from 'node:module';
import { openDatabase } from '../../src/store/database/database.ts';
import type { FeedDatabase } from '../../src/store/database/feed-database.ts';
import type { Disk } from '../../src/store/disk.ts';

const SqliteError = createRequire(import.meta.url)('libsql').SqliteError as new (
  message: string,
  code: string,
) => Error;

export const DISK_CALLS = [
  'mkdirSync',
  'openSync',
  'closeSync',
  'writeSync',
  'fsyncSync',
  'fstatSync',
  'ftruncateSync',
  'renameSync',
  'rmSync',
  'readFileSync',
] as const satisfies (keyof Disk)[];
/** Calls of statements and of the database itself. */
export const DATABASE_CALLS = ['run', 'all', 'exec'] as const;

type Call = (typeof DISK_CALLS)[number] | (typeof DATABASE_CALLS)[number];

export interface Trouble {
  /** Which calls fail. */
  calls: readonly Call[];
  code: string;
  /** Done although reported as failed. */
  done?: boolean;
  /** Bytes for which there is still room: a write takes as many as fit, and the next one none. Then only `writeSync` fails. */
  room?: number;
}

export interface FailingStorage {
  disk: Disk;
  open: (file: string) => FeedDatabase;
  trouble: Trouble | null;
  /** Calls that failed so far. */
  failures: number;
}

const systemError = (code: string, call: string): Error =>
  Object.assign(new Error(`${code}: injected, ${call}`), { code, errno: -1, syscall: call });

export function failingStorage(): FailingStorage {
  const storage: FailingStorage = {
    trouble: null,
    failures: 0,
    disk: { ...fs },
    open: (file) => failingDatabase(openDatabase(file)),
  };
  const through = <T>(call: Call, action: () => T, fault: (code: string) => Error): T => {
    const { trouble } = storage;
    if (!trouble?.calls.includes(call)) return action();
    storage.failures++;
    if (trouble.done) action();
    throw fault(trouble.code);
  };
  const calls: Disk = { ...fs };
  for (const call of DISK_CALLS) {
    const real = calls[call] as (...args: unknown[]) => unknown;
    Object.assign(storage.disk, {
      [call]: (...args: unknown[]) =>
        through(
          call,
          () => real(...args),
          (code) => systemError(code, call),
        ),
    });
  }
  const write = storage.disk.writeSync as (...args: unknown[]) => number;
  const writeWhatFits = (fd: number, bytes: Uint8Array, at: number, length: number): number => {
    const { trouble } = storage;
    if (trouble?.room === undefined) return write(fd, bytes, at, length);
    const count = Math.min(trouble.room, length);
    trouble.room -= count;
    if (count > 0) return fs.writeSync(fd, bytes, at, count);
    storage.failures++;
    throw systemError(trouble.code, 'writeSync');
  };
  Object.assign(storage.disk, { writeSync: writeWhatFits });

  const sqlite = (code: string) => new SqliteError(`${code}: injected`, code);
  const failingDatabase = (database: FeedDatabase): FeedDatabase =>
    ({
      exec: (sql: string) => through('exec', () => database.exec(sql), sqlite),
      prepare: (sql: string) => {
        const statement = database.prepare(sql);
        return {
          run: (...args: unknown[]) => through('run', () => statement.run(...args), sqlite),
          all: (...args: unknown[]) => through('all', () => statement.all(...args), sqlite),
        };
      },
      close: () => database.close(),
      get inTransaction() {
        return database.inTransaction;
      },
    }) as unknown as FeedDatabase;
  return storage;
}
