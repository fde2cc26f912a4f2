/** All of a data folder as one file, also while feeds are recorded into it: a snapshot of the database, then its captures, studies and nipples. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { codeOf, PlainError } from '../../base/errors.ts';
import { CaptureFolder } from '../captures/capture-folder.ts';
import { DATABASE_FILE } from '../data-folder.ts';
import { closeDatabase, openDatabase, readPragma } from '../database/database.ts';
import { quietly, syncFolderOf } from '../disk.ts';
import { plainly } from '../faults.ts';
import {
  ABOUT_FILE,
  BACKUP_FORMAT,
  BACKUP_VERSION,
  isSideFile,
  SIDE_FOLDERS,
  SUMS_FILE,
} from './backup-files.ts';
import { finishRestoreIfReady } from './restore.ts';
import { TarWriter } from './tar.ts';

export interface BackupAbout {
  format: typeof BACKUP_FORMAT;
  version: number;
  madeAt: string;
  softwareVersion: string;
  /** Version of the database schema. */
  dataVersion: number;
  feeds: number;
}

export interface BackupOptions {
  nowMs: number;
  softwareVersion: string;
  /** Called after each feed with the number done and the total. */
  onProgress?: (done: number, of: number) => void;
}

export interface BackupResult {
  feeds: number;
  captures: number;
  bytes: number;
}

/**
 * Writes `out`, which must not exist yet; it appears completely or not at all. A running feed is included up to now.
 * @throws PlainError backup-exists, backup-nothing, store-full, store-folder …
 */
export function backUp(
  folder: string,
  out: string,
  { nowMs, softwareVersion, onProgress }: BackupOptions,
): BackupResult {
  if (fs.existsSync(out)) {
    throw new PlainError(
      'backup-exists',
      `There is something named ${out} already. It was left as it is.`,
      'Choose another name with --out.',
    );
  }
  // After an interrupted restore the database may still have to be put in place.
  finishRestoreIfReady(folder);
  if (!fs.existsSync(join(folder, DATABASE_FILE))) {
    throw new PlainError(
      'backup-nothing',
      `Nothing is kept in ${folder}.`,
      'For the feeds of the simulated sleeve add --simulated.',
    );
  }
  const [partial, snapshot] = [`${out}.partial`, `${out}.partial.sqlite`];
  const clearSnapshot = (): void => {
    // The file does not exist; the first error says why.
    for (const ending of ['', '-wal', '-shm'])
      quietly(() => fs.rmSync(`${snapshot}${ending}`, { force: true }));
  };
  const clear = (): void => {
    quietly(() => fs.rmSync(partial, { force: true }));
    clearSnapshot();
  };
  try {
    return plainly(out, () => {
      clear();
      const { ids, dataVersion } = takeSnapshot(folder, snapshot);
      const about: BackupAbout = {
        format: BACKUP_FORMAT,
        version: BACKUP_VERSION,
        madeAt: new Date(nowMs).toISOString(),
        softwareVersion,
        dataVersion,
        feeds: ids.length,
      };
      const captures = packAll({ folder, snapshot, ids }, about, partial, onProgress);
      // Before the final name exists: once it exists nobody runs this again, and nothing else would remove the copy.
      clearSnapshot();
      fs.renameSync(partial, out);
      syncFolderOf(out);
      return { feeds: ids.length, captures, bytes: fs.statSync(out).size };
    });
  } finally {
    clear();
  }
}

/** Copies a consistent snapshot of the database. @returns the ids of the feeds in it, and the version of its shape */
function takeSnapshot(folder: string, snapshot: string): { ids: string[]; dataVersion: number } {
  // SQLite fills an existing empty file; one that it creates itself would be readable by others.
  fs.writeFileSync(snapshot, '', { mode: 0o600 });
  const database = openDatabase(join(folder, DATABASE_FILE));
  try {
    database.exec(`VACUUM INTO '${snapshot.replaceAll("'", "''")}'`);
  } finally {
    closeDatabase(database);
  }
  const copy = openDatabase(snapshot);
  try {
    const feeds = copy.prepare<{ id: string }>('SELECT id FROM feed ORDER BY no').all();
    return { ids: feeds.map(({ id }) => id), dataVersion: readPragma(copy, 'user_version') };
  } finally {
    closeDatabase(copy);
  }
}

/** @returns how many captures are in it */
function packAll(
  { folder, snapshot, ids }: { folder: string; snapshot: string; ids: readonly string[] },
  about: BackupAbout,
  out: string,
  onProgress: BackupOptions['onProgress'],
): number {
  const captures = new CaptureFolder(folder, fs);
  const tar = new TarWriter(out);
  try {
    const madeAtMs = Date.parse(about.madeAt);
    tar.addBytes(ABOUT_FILE, Buffer.from(`${JSON.stringify(about, null, 2)}\n`), madeAtMs);
    tar.addFile(DATABASE_FILE, snapshot);
    let count = 0;
    for (const [i, id] of ids.entries()) {
      onProgress?.(i, ids.length);
      const capture = captures.find(id);
      if (capture !== null) {
        addCapture(tar, captures, id, capture);
        count++;
      }
      const sidecar = captures.sidecarName(id);
      if (fs.existsSync(join(folder, sidecar))) tar.addFile(sidecar, join(folder, sidecar));
    }
    for (const name of sideFiles(folder)) tar.addFile(name, join(folder, name));
    const sums = [...tar.sums].map(([name, sum]) => `${sum}  ${name}\n`).join('');
    tar.addBytes(SUMS_FILE, Buffer.from(sums), madeAtMs);
    tar.finish();
    return count;
  } finally {
    tar.close();
  }
}

/** Files of studies and nipples, by their names in a backup. */
const sideFiles = (folder: string): string[] =>
  SIDE_FOLDERS.filter((side) => fs.existsSync(join(folder, side)))
    .flatMap((side) =>
      fs
        .readdirSync(join(folder, side), { recursive: true, encoding: 'utf8' })
        .map((name) => `${side}/${name.replaceAll('\\', '/')}`),
    )
    .filter(isSideFile)
    .sort();

/** The feed may end at this moment, and its capture be renamed. */
function addCapture(tar: TarWriter, captures: CaptureFolder, id: string, name: string): void {
  try {
    tar.addFile(name, captures.pathOf(name));
  } catch (error) {
    const renamed = captures.find(id);
    if (codeOf(error) !== 'ENOENT' || renamed === null) throw error;
    tar.addFile(renamed, captures.pathOf(renamed));
  }
}
