/** One end of a move: a data folder locked against recording, or a site of a database. */
import * as fs from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { PlainError } from '../../base/errors.ts';
import { DATABASE_FILE } from '../data-folder.ts';
import { closeDatabase, inTransaction } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { isSafeFeedId } from '../database/feed-id.ts';
import { replaceFile, writeAll } from '../disk.ts';
import { isSideFile, SIDE_FOLDERS } from '../portable/backup-files.ts';
import { holdFolder } from '../portable/held-folder.ts';
import {
  type DatabaseAddress,
  type DatabaseChoice,
  databaseAddress,
  isDatabaseUrl,
} from '../postgres/address.ts';
import { chunkSql } from '../postgres/capture-statements.ts';
import { CHUNK_BYTES, PostgresCaptures } from '../postgres/postgres-captures.ts';
import { openPostgres, type PostgresDatabase } from '../postgres/postgres-database.ts';

/** A file of the place by its name inside a data folder: a capture, its sidecar, a file of a study. */
export interface Files {
  names(): string[];
  read(name: string): Buffer;
  /** Durable on return. */
  write(name: string, bytes: Buffer): void;
}

export interface Place {
  label: string;
  database: FeedDatabase;
  files: Files;
  close(): void;
}

/** @param mustBe  true for the source @throws PlainError move-nothing, store-recording, database-away … */
export function openPlace(choice: DatabaseChoice | string, mustBe: boolean): Place {
  const asked = typeof choice === 'string' ? { database: choice } : choice;
  if (isDatabaseUrl(asked.database)) return siteOf(databaseAddress(asked));
  const where = resolve(asked.database);
  if (mustBe && !fs.existsSync(join(where, DATABASE_FILE)))
    throw new PlainError(
      'move-nothing',
      `No feeds are kept in ${where}.`,
      'Name the folder that holds feeds.sqlite, or postgres://USER@HOST/NAME.',
    );
  const { folder, database, close } = holdFolder(where);
  return { label: folder, database, files: folderFiles(folder), close };
}

const CAPTURE = /^captures\/([a-z0-9][a-z0-9-]{0,63})\.(cap|cap\.cols|cap\.gz|json)$/;
const feedOfFile = (name: string): string | null => CAPTURE.exec(name)?.[1] ?? null;

function folderFiles(folder: string): Files {
  return {
    names: () =>
      ['captures', ...SIDE_FOLDERS]
        .filter((inside) => fs.existsSync(join(folder, inside)))
        .flatMap((inside) =>
          fs
            .readdirSync(join(folder, inside), { recursive: true, encoding: 'utf8' })
            .map((name) => `${inside}/${name.replaceAll('\\', '/')}`),
        )
        .filter((name) => CAPTURE.test(name) || isSideFile(name))
        .sort(),
    read: (name) => fs.readFileSync(join(folder, name)),
    write(name, bytes) {
      fs.mkdirSync(dirname(join(folder, name)), { recursive: true, mode: 0o700 });
      replaceFile(fs, join(folder, name), (fd) => writeAll(fs, fd, bytes));
    },
  };
}

function siteOf(address: DatabaseAddress): Place {
  const database = openPostgres(address);
  try {
    refuseRecorded(database, address);
    const label = `${address.label}?site=${address.site}`;
    return { label, database, files: siteFiles(database), close: () => closeDatabase(database) };
  } catch (error) {
    database.close();
    throw error;
  }
}

function refuseRecorded(database: PostgresDatabase, { label, site }: DatabaseAddress): void {
  const captures = new PostgresCaptures(database);
  if (!feedIdsOf({ database }, "WHERE state = 'open'").some((id) => captures.isHeld(id))) return;
  throw new PlainError(
    'store-recording',
    `A feed of the site ${site} is being recorded into ${label}.`,
    'End it, or wait until it has ended.',
  );
}

/** @param which  SQL condition; default all */
export const feedIdsOf = ({ database }: Pick<Place, 'database'>, which = ''): string[] =>
  database
    .prepare<{ id: string }>(`SELECT id FROM feed ${which}`)
    .all()
    .map(({ id }) => id);

interface CaptureLine {
  feed_id: string;
  note: Uint8Array | null;
  has_raw: boolean;
  packed: 'cols' | 'gz' | null;
}

function siteFiles(database: PostgresDatabase): Files {
  const captures = new PostgresCaptures(database);
  const lines = database.prepare<CaptureLine>('SELECT feed_id, note, has_raw, packed FROM capture');
  const sides = database.prepare<{ path: string }>('SELECT path FROM side_file');
  const side = database.prepare<{ bytes: Uint8Array }>('SELECT bytes FROM side_file WHERE path = ?');
  const putSide = database.prepare(
    'INSERT INTO side_file (path, bytes) VALUES (?, ?) ON CONFLICT (path) DO UPDATE SET bytes = excluded.bytes',
  );
  return {
    names: () =>
      [
        ...lines
          .all()
          .flatMap(({ feed_id, note, has_raw, packed }) => [
            ...(has_raw ? [`captures/${feed_id}.cap`] : []),
            ...(packed ? [`captures/${feed_id}.cap.${packed}`] : []),
            ...(note ? [`captures/${feed_id}.json`] : []),
          ]),
        // What studies computed stays: it is computed anew.
        ...sides
          .all()
          .map(({ path }) => path)
          .filter(isSideFile),
      ].sort(),
    read(name) {
      const id = feedOfFile(name);
      if (id === null) return Buffer.from(side.all(name)[0]!.bytes);
      return name.endsWith('.json') ? captures.readSidecar(id)! : captures.read(name);
    },
    write(name, bytes) {
      const id = feedOfFile(name);
      if (id === null) putSide.run(name, bytes);
      else inTransaction(database, () => writeCapture(database, id, name, bytes));
    },
  };
}

/** Stored in the month in which its feed began; captures without a feed have a common place. */
function writeCapture(database: PostgresDatabase, id: string, name: string, bytes: Buffer): void {
  if (!isSafeFeedId(id)) return;
  const sql = 'SELECT started_at_ms AS at FROM feed WHERE id = ?';
  const [feed] = database.prepare<{ at: number }>(sql).all(id);
  const month = `${new Date(feed?.at ?? 0).toISOString().slice(0, 7)}-01`;
  const run = (sql: string, ...values: unknown[]) => database.prepare(sql).run(...values);
  run('SELECT make_capture_month(?::text::date)', month);
  run(
    'INSERT INTO capture (feed_id, month, has_raw) VALUES (?, ?::text::date, false) ON CONFLICT DO NOTHING',
    id,
    month,
  );
  if (name.endsWith('.json')) {
    run('UPDATE capture SET note = ? WHERE feed_id = ?', bytes, id);
    return;
  }
  const packing = name.endsWith('.cap') ? 'raw' : name.endsWith('.gz') ? 'gz' : 'cols';
  run('DELETE FROM capture_chunk WHERE feed_id = ? AND packing = ?', id, packing);
  const chunk = database.prepare(chunkSql);
  for (let seq = 0; seq * CHUNK_BYTES < bytes.length; seq++)
    chunk.run(id, packing, seq, bytes.subarray(seq * CHUNK_BYTES, (seq + 1) * CHUNK_BYTES), month);
  if (packing === 'raw')
    run('UPDATE capture SET has_raw = true, raw_bytes = ? WHERE feed_id = ?', bytes.length, id);
  else run('UPDATE capture SET packed = ? WHERE feed_id = ?', packing, id);
}
