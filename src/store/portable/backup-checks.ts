/** Checks that a backup is complete and contains only what Ebbline makes, before anything of it is used. */
import * as fs from 'node:fs';
import { basename, dirname, isAbsolute, join } from 'node:path';
import { PlainError } from '../../base/errors.ts';
import { isCaptureName } from '../captures/leaving.ts';
import { DATABASE_FILE } from '../data-folder.ts';
import {
  closeDatabase,
  countIn,
  openDatabase,
  quickCheck,
  rawDatabase,
  readPragma,
} from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { isSafeFeedId } from '../database/feed-id.ts';
import { foreignParts } from '../database/schema.ts';
import { ABOUT_FILE, BACKUP_FORMAT, BACKUP_VERSION, SUMS_FILE } from './backup-files.ts';

/** @throws PlainError restore-foreign, restore-newer */
export function checkAbout(stage: string, name: string, file: string): void {
  if (name !== ABOUT_FILE) throw foreign(file);
  let about: { format?: unknown; version?: unknown };
  try {
    about = JSON.parse(fs.readFileSync(join(stage, name), 'utf8'));
  } catch (cause) {
    throw foreign(file, cause);
  }
  if (about?.format !== BACKUP_FORMAT) throw foreign(file);
  if (about.version !== 1 && about.version !== BACKUP_VERSION) {
    throw new PlainError(
      'restore-newer',
      `The backup ${file} was made by a newer Ebbline (format version ${String(about.version)}; this one knows ${BACKUP_VERSION}). Nothing was changed.`,
      'Update Ebbline.',
    );
  }
}

/** @throws PlainError restore-damaged */
export function checkSums(stage: string, file: string, sums: ReadonlyMap<string, string>): void {
  if (!sums.has(SUMS_FILE) || !sums.has(DATABASE_FILE)) throw damaged(file, 'is cut short');
  const lines = fs.readFileSync(join(stage, SUMS_FILE), 'utf8').trimEnd().split('\n');
  const told = new Map(lines.map((line) => [line.slice(66), line.slice(0, 64)]));
  for (const [name, sum] of sums) {
    if (name !== SUMS_FILE && told.get(name) !== sum) throw damaged(file, `is damaged at ${name}`);
  }
  if (told.size !== sums.size - 1) throw damaged(file, 'lacks some of its files');
}

/** Checks the database before anything of it is used; only then it is migrated. @returns its number of feeds */
export function checkDatabase(path: string, file: string, nowMs: number): number {
  const raw = rawDatabase(path);
  try {
    raw.exec('PRAGMA trusted_schema = OFF');
    const verdict = quickCheck(raw);
    if (verdict !== 'ok') throw damaged(file, `holds a damaged database (${verdict})`);
    if (readPragma(raw, 'application_id') === 0) throw foreign(file);
    const [part] = foreignParts(raw);
    if (part !== undefined)
      throw damaged(file, `holds a database with a part that is not as Ebbline makes it (${part})`);
    for (const { id, capture_file } of raw.prepare<KeptAs>(namesIn(raw)).all()) {
      if (!isOwnCapture(id, capture_file))
        throw damaged(
          file,
          `names a feed or a capture as Ebbline does not (${JSON.stringify(id.slice(0, 80))})`,
        );
    }
  } finally {
    raw.close();
  }
  const database = openDatabase(path, () => nowMs);
  try {
    return countIn(database, 'feed');
  } finally {
    closeDatabase(database);
  }
}

/** Names of feeds and captures; including captures listed for removal. */
const namesIn = (database: FeedDatabase): string =>
  readPragma(database, 'user_version') < LISTS_LEAVING
    ? 'SELECT id, capture_file FROM feed'
    : "SELECT id, capture_file FROM feed UNION ALL SELECT feed_id, capture_file FROM leaving WHERE feed_id <> ''";
/** First version of the database with that list. */
const LISTS_LEAVING = 7;

interface KeptAs {
  id: string;
  capture_file: string;
}

/** Whether the capture is in the folder, or archived under its own name. */
function isOwnCapture(id: string, captureFile: string): boolean {
  if (!isSafeFeedId(id)) return false;
  if (captureFile === '') return true;
  const isInside = dirname(captureFile) === 'captures';
  return (isInside || isAbsolute(captureFile)) && isCaptureName(id, basename(captureFile));
}

export const foreign = (file: string, cause?: unknown): PlainError =>
  new PlainError(
    'restore-foreign',
    `The file ${file} is not a backup of Ebbline. Nothing was changed.`,
    'Give a file made by "ebbline data backup".',
    { cause },
  );

export const damaged = (file: string, what: string, cause?: unknown): PlainError =>
  new PlainError(
    'restore-damaged',
    `The backup ${file} ${what}. Nothing was changed.`,
    'Take another copy of it.',
    { cause },
  );
