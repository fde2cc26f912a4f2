/**
 * A backup back into a data folder. It is unpacked and checked beside what is there; only then the two change places, and what was there
 * stays in a folder of its own. A cut in between is made good when the folder is next opened (`finishRestore`).
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

/** Where a backup is unpacked to; with the file `READY` inside, it may take its place. */
export const STAGE = 'restoring';
const READY = 'ready';
/** Folders of what was there before: `before-restore-` and when. */
const BEFORE_PREFIX = 'before-restore-';
/** What a data folder consists of, in the order in which it changes places. */
const PARTS = [`${DATABASE_FILE}-wal`, `${DATABASE_FILE}-shm`, DATABASE_FILE, 'captures', ...SIDE_FOLDERS];

export interface RestoreOptions {
  /** Whether feeds that are there may be put aside. */
  replace: boolean;
  nowMs: number;
  /** Told after each file how many bytes of how many are unpacked. */
  onProgress?: (done: number, of: number) => void;
}

export interface RestoreResult {
  feeds: number;
  /** Where the feeds went that were there before; null when there were none. */
  before: string | null;
}

/**
 * @throws PlainError restore-occupied, restore-missing, restore-foreign, restore-newer, restore-damaged, store-recording, store-full …;
 *   then the folder is as it was
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
      // Looked at above, under the lock: nothing was kept there.
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

/** For whoever opens the folder: ends a restore that was cut when it was ready. @throws PlainError store-recording while it goes on */
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
 * Ends a restore that was cut: one that was ready takes its place, another is cleared away. Each step may be the last one before a cut.
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

/** On the disk, with all of the stage, before anything changes places. @param before  folder into which goes what is there now */
function markReady(stage: string, before: string): void {
  for (const name of [DATABASE_FILE, ...['captures', ...SIDE_FOLDERS].map((one) => join(one, 'any'))])
    syncFolderOf(join(stage, name));
  replaceFile(fs, join(stage, READY), (fd) => writeAll(fs, fd, Buffer.from(before)));
}

/** @returns the name of the folder into which goes what is there; null without a whole mark: then nothing has changed places yet */
function readyMark(stage: string): string | null {
  let text: string;
  try {
    text = fs.readFileSync(join(stage, READY), 'utf8');
  } catch {
    return null;
  }
  // Versions before wrote nothing where they thought that nothing was there; nothing is deleted on the word of an empty file.
  if (text === '') return `${BEFORE_PREFIX}unmarked`;
  return MARK.test(text) ? text : null;
}

const MARK = /^before-restore-\d{8}-\d{6}$/;

/** Puts one part of the stage in its place. A log of the old database goes with it: beside the new one it would spoil it. */
function swap(folder: string, stage: string, part: string, before: string): void {
  const [place, staged] = [join(folder, part), join(stage, part)];
  const isLog = part !== DATABASE_FILE && part.startsWith(DATABASE_FILE);
  // Done before the cut.
  if (!isLog && !fs.existsSync(staged)) return;
  if (fs.existsSync(place)) {
    fs.mkdirSync(before, { recursive: true, mode: 0o700 });
    fs.renameSync(place, join(before, part));
    syncFolderOf(join(before, part));
  }
  // A backup without studies puts away those that are there, and leaves no empty folder.
  if (isEmptySide(staged, part)) fs.rmdirSync(staged);
  else if (!isLog) fs.renameSync(staged, place);
  syncFolderOf(place);
}

const isEmptySide = (staged: string, part: string): boolean =>
  (SIDE_FOLDERS as readonly string[]).includes(part) && fs.readdirSync(staged).length === 0;

/** Whether anything is kept there that a restore would put aside. @throws when another program reads it just now */
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
    // Fails while another program reads. Without a log a connection that lingers can do nothing to what comes in its place.
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
      // The first file says what all of it is.
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

/** @returns null for what has no business in a backup */
function placeIn(stage: string, name: string): string | null {
  if (!isBackupFile(name)) return null;
  const place = join(stage, name);
  fs.mkdirSync(dirname(place), { recursive: true, mode: 0o700 });
  return place;
}

/** Two restores within a second, or one after the clock was set back: what one has put aside the other must not write over. */
function freeName(folder: string, nowMs: number): string {
  for (let atMs = nowMs; ; atMs += 1000) {
    const name = `${BEFORE_PREFIX}${stampOf(atMs)}`;
    if (!fs.existsSync(join(folder, name))) return name;
  }
}

/** "20260105-090000", UTC: safe as a file name everywhere. */
const stampOf = (atMs: number): string =>
  new Date(atMs).toISOString().slice(0, 19).replaceAll(/[-:]/g, '').replace('T', '-');
