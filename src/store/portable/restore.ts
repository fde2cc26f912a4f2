/**
 * Restores a backup into a data folder. It is unpacked and checked beside the present data; only then the two are exchanged, and the old data
 * stay in a folder of their own. An interruption is completed when the folder is next opened (`finishRestore`).
 */
import * as fs from 'node:fs';
import { dirname, join } from 'node:path';
import { PlainError } from '../../base/errors.ts';
import { takeRecordingLock } from '../captures/recording-lock.ts';
import { DATABASE_FILE } from '../data-folder.ts';
import { closeDatabase, openDatabase } from '../database/database.ts';
import { replaceFile, syncFolderOf, writeAll } from '../disk.ts';
import { plainly } from '../faults.ts';
import { checkAbout, checkDatabase, checkSums, damaged, foreign } from './backup-checks.ts';
import { ABOUT_FILE, isBackupFile, SIDE_FOLDERS, SUMS_FILE } from './backup-files.ts';
import { unpackTar } from './tar.ts';

/** Folder for unpacking; with the file `READY` inside it may be put in place. */
export const STAGE = 'restoring';
const READY = 'ready';
/** Folders of old data: `before-restore-` and the time. */
const BEFORE_PREFIX = 'before-restore-';
/** The parts of a data folder, in the order in which they are exchanged. */
const PARTS = [`${DATABASE_FILE}-wal`, `${DATABASE_FILE}-shm`, DATABASE_FILE, 'captures', ...SIDE_FOLDERS];

export interface RestoreOptions {
  /** Whether existing feeds may be moved aside. */
  replace: boolean;
  nowMs: number;
  /** Called after each file with the bytes unpacked and the total. */
  onProgress?: (done: number, of: number) => void;
}

export interface RestoreResult {
  feeds: number;
  /** Folder of the old feeds; null if there were none. */
  before: string | null;
}

/**
 * @throws PlainError restore-occupied, restore-missing, restore-foreign, restore-newer, restore-damaged, store-recording, store-full …;
 *   then the folder is unchanged
 */
export function restoreInto(
  folder: string,
  file: string,
  { replace, nowMs, onProgress }: RestoreOptions,
): RestoreResult {
  if (!fs.existsSync(file)) {
    throw new PlainError('restore-missing', `There is no backup ${file}.`, 'Check the name.');
  }
  plainly(folder, () => fs.mkdirSync(folder, { recursive: true, mode: 0o700 }));
  const unlock = takeRecordingLock(folder);
  try {
    finishRestore(folder);
    const isOccupied = plainly(folder, () => holdsAnything(folder, nowMs));
    if (isOccupied && !replace) {
      throw new PlainError(
        'restore-occupied',
        `Something is kept in ${folder} already. It was left as it is.`,
        'Add --replace to put the backup in its place; what is there will be kept beside it.',
      );
    }
    const stage = join(folder, STAGE);
    try {
      const feeds = plainly(folder, () => unpackInto(stage, file, nowMs, onProgress));
      const before = freeName(folder, nowMs);
      plainly(folder, () => markReady(stage, before));
      finishRestore(folder);
      if (isOccupied) return { feeds, before: join(folder, before) };
      // It was checked under the lock that nothing is stored there.
      fs.rmSync(join(folder, before), { recursive: true, force: true });
      return { feeds, before: null };
    } catch (error) {
      if (readyMark(stage) === null) fs.rmSync(stage, { recursive: true, force: true });
      throw error;
    }
  } finally {
    unlock();
  }
}

/** Call it when opening a folder: completes an interrupted restore that was ready. @throws PlainError store-recording while it goes on */
export function finishRestoreIfReady(folder: string): void {
  if (readyMark(join(folder, STAGE)) === null) return;
  const unlock = takeRecordingLock(folder);
  try {
    finishRestore(folder);
  } finally {
    unlock();
  }
}

/**
 * Completes an interrupted restore: one that was ready is put in place, another is removed. It may be interrupted again at any step.
 * The caller holds the recording lock.
 */
export function finishRestore(folder: string): void {
  const stage = join(folder, STAGE);
  if (!fs.existsSync(stage)) return;
  plainly(folder, () => {
    const mark = readyMark(stage);
    if (mark !== null) for (const part of PARTS) swap(folder, stage, part, join(folder, mark));
    fs.rmSync(stage, { recursive: true, force: true });
    syncFolderOf(stage);
  });
}

/** Makes the stage and its mark durable before anything is exchanged. @param before  folder for the present data */
function markReady(stage: string, before: string): void {
  for (const name of [DATABASE_FILE, ...['captures', ...SIDE_FOLDERS].map((one) => join(one, 'any'))])
    syncFolderOf(join(stage, name));
  replaceFile(fs, join(stage, READY), (fd) => writeAll(fs, fd, Buffer.from(before)));
}

/** @returns the name of the folder for the old data; null without a complete mark: then nothing was exchanged yet */
function readyMark(stage: string): string | null {
  let text: string;
  try {
    text = fs.readFileSync(join(stage, READY), 'utf8');
  } catch {
    return null;
  }
  // Older versions wrote an empty mark when they found no old data; an empty file is not trusted, so nothing is deleted because of it.
  if (text === '') return `${BEFORE_PREFIX}unmarked`;
  return MARK.test(text) ? text : null;
}

const MARK = /^before-restore-\d{8}-\d{6}$/;

/** Puts one part of the stage in place. The old database's log is moved with it, since it would damage the new one. */
function swap(folder: string, stage: string, part: string, before: string): void {
  const [place, staged] = [join(folder, part), join(stage, part)];
  const isLog = part !== DATABASE_FILE && part.startsWith(DATABASE_FILE);
  // It was done before the interruption.
  if (!isLog && !fs.existsSync(staged)) return;
  if (fs.existsSync(place)) {
    fs.mkdirSync(before, { recursive: true, mode: 0o700 });
    fs.renameSync(place, join(before, part));
    syncFolderOf(join(before, part));
  }
  // If the backup has no studies, existing ones are moved aside and no empty folder is left.
  if (isEmptySide(staged, part)) fs.rmdirSync(staged);
  else if (!isLog) fs.renameSync(staged, place);
  syncFolderOf(place);
}

const isEmptySide = (staged: string, part: string): boolean =>
  (SIDE_FOLDERS as readonly string[]).includes(part) && fs.readdirSync(staged).length === 0;

/** Whether there are data that a restore would move aside. @throws when another program is reading them */
function holdsAnything(folder: string, nowMs: number): boolean {
  const hasFiles = ['captures', ...SIDE_FOLDERS]
    .map((name) => join(folder, name))
    .some((place) => fs.existsSync(place) && fs.readdirSync(place).length > 0);
  const file = join(folder, DATABASE_FILE);
  if (!fs.existsSync(file)) return hasFiles;
  const database = openDatabase(file, () => nowMs);
  try {
    const tables = ['feed', 'hand_feed', 'milk_event', 'setting', 'calibration', 'baby'];
    const found = tables.some((table) => database.prepare(`SELECT 1 FROM ${table} LIMIT 1`).all().length > 0);
    // It fails while another program reads. Without a log a lingering connection cannot damage the new file.
    database.exec('PRAGMA journal_mode = DELETE');
    return found || hasFiles;
  } finally {
    closeDatabase(database);
  }
}

/** @returns how many feeds are in it */
function unpackInto(
  stage: string,
  file: string,
  nowMs: number,
  onProgress: RestoreOptions['onProgress'],
): number {
  const bytes = fs.statSync(file).size;
  let done = 0;
  fs.rmSync(stage, { recursive: true, force: true });
  for (const name of ['captures', ...SIDE_FOLDERS])
    fs.mkdirSync(join(stage, name), { recursive: true, mode: 0o700 });
  const sums = new Map<string, string>();
  try {
    for (const { name, sha256 } of unpackTar(file, (name) => placeIn(stage, name))) {
      // The first file identifies the backup.
      if (sums.size === 0) checkAbout(stage, name, file);
      sums.set(name, sha256);
      done += fs.statSync(join(stage, name)).size;
      onProgress?.(done, bytes);
    }
  } catch (cause) {
    if (!(cause instanceof RangeError)) throw cause;
    throw sums.size === 0 ? foreign(file, cause) : damaged(file, cause.message, cause);
  }
  checkSums(stage, file, sums);
  for (const name of [ABOUT_FILE, SUMS_FILE]) fs.rmSync(join(stage, name));
  return checkDatabase(join(stage, DATABASE_FILE), file, nowMs);
}

/** @returns null for a file that may not be in a backup */
function placeIn(stage: string, name: string): string | null {
  if (!isBackupFile(name)) return null;
  const place = join(stage, name);
  fs.mkdirSync(dirname(place), { recursive: true, mode: 0o700 });
  return place;
}

/** A free name, also for two restores within a second or after a clock was set back. */
function freeName(folder: string, nowMs: number): string {
  for (let atMs = nowMs; ; atMs += 1000) {
    const name = `${BEFORE_PREFIX}${stampOf(atMs)}`;
    if (!fs.existsSync(join(folder, name))) return name;
  }
}

/** "20260105-090000", UTC: safe as a file name everywhere. */
const stampOf = (atMs: number): string =>
  new Date(atMs).toISOString().slice(0, 19).replaceAll(/[-:]/g, '').replace('T', '-');
