/**
 * Captures to be removed: listed in the transaction that deletes their feeds, and taken off the list only when they are gone and the
 * database file is rewritten. An interruption is completed at the next start.
 */
import * as fs from 'node:fs';
import { basename, dirname, isAbsolute, join } from 'node:path';
import { waysOf } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { replacingSql } from '../database/replacing.ts';
import type { Captures } from './captures.ts';

/** Entry for the database file itself, which must be rewritten even if no capture is removed. */
const THE_FILE = '';

interface Leaving {
  feed_id: string;
  capture_file: string;
}

/** Call it inside the transaction that deletes the feeds. */
export function listLeaving(
  database: FeedDatabase,
  feeds: readonly { id: string; capture_file: string }[],
): void {
  const insert = database.prepare(replacingSql('leaving', ['feed_id'], ['capture_file', 'swept']));
  insert.run(THE_FILE, '', 0);
  for (const { id, capture_file } of feeds) insert.run(id, capture_file, 0);
}

/**
 * Removes what is listed. A capture on a disk that is not attached stays listed until a start at which it is.
 * @param writeAnew  rewrites the database file, so that no deleted data remain in it
 * @returns archived captures that could not be reached, or do not belong to this feed
 */
export function removeLeaving(database: FeedDatabase, captures: Captures, writeAnew: () => void): string[] {
  const listed = database.prepare<Leaving>('SELECT feed_id, capture_file FROM leaving').all();
  if (listed.length === 0) return [];
  const unreachable: string[] = [];
  for (const { feed_id, capture_file } of listed) {
    if (feed_id === THE_FILE) continue;
    captures.removeAll(feed_id);
    if (isAbsolute(capture_file) && !removeElsewhere(feed_id, capture_file)) unreachable.push(capture_file);
  }
  const isNew = database.prepare('SELECT 1 FROM leaving WHERE swept = 0 LIMIT 1').all().length > 0;
  if (isNew) {
    captures.sync();
    writeAnew();
  }
  waysOf(database).beforeDeleting(database);
  database
    .prepare('DELETE FROM leaving WHERE capture_file NOT IN (SELECT value FROM json_each(?))')
    .run(JSON.stringify(unreachable));
  database.exec('UPDATE leaving SET swept = 1 WHERE swept = 0');
  return unreachable;
}

/** Removes only a file whose sidecar says that it is this feed's capture, since a path in a database may be wrong or foreign. */
function removeElsewhere(feedId: string, path: string): boolean {
  const sidecar = join(dirname(path), `${feedId}.json`);
  if (!fs.existsSync(path) || !isCaptureName(feedId, basename(path)) || !isNoteOf(feedId, sidecar))
    return false;
  fs.rmSync(path);
  fs.rmSync(sidecar, { force: true });
  return true;
}

/** @returns whether this is a valid name for the feed's capture */
export const isCaptureName = (feedId: string, name: string): boolean =>
  [`${feedId}.cap`, `${feedId}.cap.cols`, `${feedId}.cap.gz`].includes(name);

function isNoteOf(feedId: string, path: string): boolean {
  try {
    return (JSON.parse(fs.readFileSync(path, 'utf8')) as { feedId?: unknown }).feedId === feedId;
  } catch {
    return false;
  }
}
