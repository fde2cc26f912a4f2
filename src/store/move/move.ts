/**
 * Moves the feeds of a family or a site from one place (data folder or database) to another: every row, every capture, every file of a study, equal to
 * the bit. The source is not changed. All rows come in one transaction; then the files one by one, each read again and compared. After an interruption the
 * same command continues.
 */
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import { asOfNow, countIn, inTransaction } from '../database/database.ts';
import { Settings } from '../database/settings.ts';
import type { DatabaseChoice } from '../postgres/address.ts';
import { feedIdsOf, openPlace, type Place } from './place.ts';
import { copyRows, emptyTables, filledTables, MOVING, sumOf } from './rows.ts';

export interface MoveResult {
  from: string;
  to: string;
  feeds: number;
  files: number;
  bytes: number;
  /** Hash over every row; equal at both ends. */
  sha256: string;
}

/**
 * @param onProgress  called with the number of feeds and files done, and their total
 * @throws PlainError move-nothing, move-same, move-occupied, move-differs, store-recording, database-away, store-full …
 */
export function move(
  from: DatabaseChoice | string,
  to: DatabaseChoice | string,
  onProgress: (done: number, of: number) => void = () => {},
): MoveResult {
  const source = openPlace(from, true);
  try {
    const target = openPlace(to, false);
    try {
      if (source.label === target.label)
        throw new PlainError('move-same', `${source.label} is both ends of the move.`, 'Name another place.');
      return between(source, target, onProgress);
    } finally {
      target.close();
    }
  } finally {
    source.close();
  }
}

function between(source: Place, target: Place, onProgress: (done: number, of: number) => void): MoveResult {
  const names = source.files.names();
  const feeds = countIn(source.database, 'feed');
  let done = 0;
  const step = (): void => onProgress(++done, feeds + names.length);
  refuseOccupied(source, target);
  const sha256 = asOfNow(source.database, () => moveRows(source, target, step));
  const there = new Set(target.files.names());
  let bytes = 0;
  for (const name of names) {
    bytes += moveFile(source, target, name, there.has(name));
    step();
  }
  target.database.prepare('DELETE FROM setting WHERE name = ?').run(MOVING);
  return { from: source.label, to: target.label, feeds, files: names.length, bytes, sha256 };
}

/** Source of the rows that are being moved. */
const markSchema = z.object({ from: z.string() });

/** Leftovers of the same move are accepted. @throws PlainError move-occupied */
function refuseOccupied(source: Place, target: Place): void {
  const begun = markSchema.safeParse(new Settings(target.database).readFor(MOVING));
  const filled = filledTables(target.database);
  const isOwn = begun.data?.from === source.label && isWithin(target, source);
  if (isOwn || (filled.length === 0 && target.files.names().length === 0)) return;
  throw new PlainError(
    'move-occupied',
    `Something is kept in ${target.label} already. It was left as it is.`,
    'Name an empty place: another folder, or another site of the database.',
  );
}

/** Whether the target has only what the source has: nothing was recorded since the interruption. */
function isWithin(target: Place, source: Place): boolean {
  const known = new Set(feedIdsOf(source));
  return feedIdsOf(target).every((id) => known.has(id));
}

function moveRows(source: Place, target: Place, onFeed: () => void): string {
  return inTransaction(target.database, () => {
    new Settings(target.database).writeFor(MOVING, { from: source.label });
    emptyTables(target.database);
    const read = copyRows(source.database, target.database, onFeed);
    if (sumOf(target.database) !== read) throw differs(target, 'The rows');
    return read;
  });
}

function moveFile(source: Place, target: Place, name: string, mayBeThere: boolean): number {
  const bytes = source.files.read(name);
  if (mayBeThere && target.files.read(name).equals(bytes)) return bytes.length;
  target.files.write(name, bytes);
  if (!target.files.read(name).equals(bytes)) throw differs(target, `The file ${name}`);
  return bytes.length;
}

const differs = ({ label }: Place, what: string): PlainError =>
  new PlainError(
    'move-differs',
    `${what} did not come back from ${label} as they were written. What you move from is as it was.`,
    'Look at the disk there, then give the same command again.',
  );
