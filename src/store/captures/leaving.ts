/**
 * Captures on their way out: listed in the same transaction in which their feeds are deleted, and struck off only once they are gone and
 * the file is written anew. A cut in between is made good at the next start.
 */
import * as fs from 'node:fs';
import { basename, dirname, isAbsolute, join } from 'node:path';
import { waysOf } from '../database/database.ts';
import type { FeedDatabase } from '../database/feed-database.ts';
import { replacingSql } from '../database/replacing.ts';
import type { Captures } from './captures.ts';

/** Stands for the file itself, which is to be written anew even where no capture goes. */
const THE_FILE = '';

interface Leaving {
  feed_id: string;
  capture_file: string;
}

/** To be called inside the transaction that deletes the feeds. */
export function listLeaving(
  database: FeedDatabase,
  feeds: readonly { id: string; capture_file: string }[],
): void {
  const insert = database.prepare(replacingSql('leaving', ['feed_id'], ['capture_file', 'swept']));
  insert.run(THE_FILE, '', 0);
  for (const { id, capture_file } of feeds) insert.run(id, capture_file, 0);
}

/**
 * Removes what is listed. A capture on a disk that is not there now stays listed: it goes at a start at which it is there.
 * @param writeAnew  writes the database's file anew, so that nothing deleted is left in it
 * @returns captures elsewhere that could not be reached, or are none of this feed's
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

/** Only what the sidecar beside it says is this feed's capture is removed: a path in a database may have come from anywhere. */
function removeElsewhere(feedId: string, path: string): boolean {
  const sidecar = join(dirname(path), `${feedId}.json`);
  if (!fs.existsSync(path) || !isCaptureName(feedId, basename(path)) || !isNoteOf(feedId, sidecar))
    return false;
  fs.rmSync(path);
  fs.rmSync(sidecar, { force: true });
  return true;
}

/** @returns whether the capture of this feed may be called so */
export const isCaptureName = (feedId: string, name: string): boolean =>
  [`${feedId}.cap`, `${feedId}.cap.cols`, `${feedId}.cap.gz`].includes(name);

function isNoteOf(feedId: string, path: string): boolean {
  try {
    return (JSON.parse(fs.readFileSync(path, 'utf8')) as { feedId?: unknown }).feedId === feedId;
  } catch {
    return false;
  }
}
