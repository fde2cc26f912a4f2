/** The latest feed of a sleeve by the store, so that its bytes can be found again among those that its relay stores. */
import { statSync } from 'node:fs';
import { readCapture } from '../../../../firmware-bridge/links/capture-file.ts';
import type { FeedEvent, FeedSummary, ToldCue } from '../../../feed/record/feed.ts';
import { type Calibration, parseCalibration } from '../../../sensing/index.ts';
import type { FeedStore } from '../../../store/feed-store.ts';

export interface LatestFeed {
  feed: FeedSummary;
  /** The one that it began with. */
  calibration: Calibration;
  /** What no byte shows: host events. */
  noted: FeedEvent[];
  told: ToldCue[];
  /** Its first and last stored bytes; samples carry their time, so that they occur once in a sleeve's bytes. Empty: none is stored. */
  head: Uint8Array;
  tail: Uint8Array;
}

/** A feed may have been begun and no more. */
function bytesOf(store: FeedStore, feedId: string): Uint8Array {
  const path = store.capturePath(feedId);
  if (path === null || statSync(path).size === 0) return new Uint8Array(0);
  return readCapture(path).bytes;
}

/** As long as a relay stores bytes, and an hour more. */
const BACK_MS = 9 * 3600 * 1000;
export const MARK_BYTES = 64;
const OF_THE_HOST = /^(link-|guidance-|cues-|burped$|handed-over$)/;

/**
 * @returns null if it had none in the last hours
 * @throws PlainError when the store cannot be read
 */
export function latestFeedOf(store: FeedStore, sleeveNumber: number, nowMs: number): LatestFeed | null {
  const ofSleeve = { sleeveId: String(sleeveNumber), fromMs: nowMs - BACK_MS };
  const [feed] = store.list({ ...ofSleeve, discarded: true, limit: 1 });
  const kept = feed ? store.get(feed.id) : null;
  if (!kept) return null;
  const { calibration, events, rows: _rows, cues: _cues, told, refined: _refined, ...summary } = kept;
  try {
    const bytes = bytesOf(store, kept.id);
    return {
      feed: summary,
      calibration: parseCalibration(calibration, `of feed ${kept.id}`),
      noted: events.filter(({ kind }) => OF_THE_HOST.test(kind)),
      told: told ?? [],
      head: Uint8Array.from(bytes.subarray(0, MARK_BYTES)),
      tail: Uint8Array.from(bytes.subarray(-MARK_BYTES)),
    };
  } finally {
    store.letGoOfFiles();
  }
}
