/** Continues a feed that another process began. */
import type { FeedSummary } from '../feed/record/feed.ts';
import type { Handed } from '../feed/record/held.ts';
import type { CaptureAppender, Captures } from './captures/captures.ts';
import type { FeedDatabase } from './database/feed-database.ts';
import type { FeedCursor, FeedRecords } from './database/feed-records.ts';

export interface RunningFeed {
  cursor: FeedCursor;
  capture: CaptureAppender;
  /** It was begun by another process, which may have stored more than is handed in again. */
  isTakenOver?: boolean;
}

const COUNTS = `SELECT (SELECT count(*) FROM feed_row WHERE feed_no = ?) AS rows, (SELECT count(*) FROM cue WHERE feed_no = ?) AS cues,
  (SELECT count(*) FROM told_cue WHERE feed_no = ?) AS told, (SELECT count(*) FROM feed_event WHERE feed_no = ?) AS events`;

const NOTHING: Handed = { rows: 0, cues: 0, told: 0, events: 0, bytes: 0 };

/**
 * Everything after `handed` is computed again from the bytes and handed in again, replacing what is stored. The earlier writer is refused from
 * now on.
 * @returns null if no such feed is open, or less of it is stored
 */
export function takenOver(
  { records, captures, database }: { records: FeedRecords; captures: Captures; database: FeedDatabase },
  feed: FeedSummary,
  { rows, cues, told, events, bytes }: Handed = NOTHING,
): RunningFeed | null {
  const begin = records.cursorOf(feed);
  if (!begin) return null;
  const { feedNo } = begin;
  const [kept] = database.prepare(COUNTS).all(feedNo, feedNo, feedNo, feedNo);
  const isThere = Object.entries({ rows, cues, told, events }).every(
    ([what, count]) => Number(Object(kept)[what]) >= count,
  );
  const capture = isThere ? captures.takeOver(feed.id, bytes) : null;
  return capture && { cursor: { feedNo, rows, cues, told, events }, capture, isTakenOver: true };
}

/** Rows may stand in one transaction with their bytes, and whether that was stored is not known after an error: they are written again at the same place. */
export function againAtSamePlace({ cursor }: RunningFeed, write: () => void): void {
  const before = { ...cursor };
  try {
    write();
  } catch (error) {
    Object.assign(cursor, before);
    throw error;
  }
}
