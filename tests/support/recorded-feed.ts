/** A feed recorded into a store as `ebbline start` does it, but from bytes at hand and without a clock. */
import type { FeedSetup } from '../../src/feed/record/feed.ts';
import type { FeedKeeper } from '../../src/feed/record/keeper.ts';
import { createSession, type SessionOptions, takeBytes } from '../../src/feed/session/session.ts';
import { endFeed } from '../../src/feed/session/session-end.ts';
import { keepPart } from '../../src/feed/session/session-keep.ts';
import { noteBurpedByPage } from '../../src/feed/session/session-notes.ts';
import type { Calibration } from '../../src/sensing/index.ts';

/** Bytes of a second on the line: 80 samples of 31. */
const SECOND_BYTES = 80 * 31;

export interface RecordedFeed {
  id: string;
  bytes: Uint8Array;
  calibration: Calibration;
  /** Wall time at which the bytes begin. */
  startMs: number;
  simulated?: boolean;
  setup?: FeedSetup;
  guide?: SessionOptions['guide'];
  /** Seconds after the beginning at which "burped" is said on the page. */
  burpedAfterSec?: readonly number[];
}

/** Hands all bytes to the keeper, a second at a time, and ends the feed. */
export function recordFeed(keeper: FeedKeeper, feed: RecordedFeed): void {
  const { bytes, calibration, startMs } = feed;
  if (feed.setup) keeper.writeSetup(feed.setup);
  const session = createSession({
    calibration,
    keeper,
    newFeedId: () => feed.id,
    simulated: feed.simulated ?? false,
    sleeveId: calibration.sleeveId,
    ...(feed.guide && { guide: feed.guide }),
  });
  let second = 0;
  for (let at = 0; at < bytes.length; at += SECOND_BYTES) {
    takeBytes(session, bytes.subarray(at, at + SECOND_BYTES), startMs + 1000 * ++second);
    if (feed.burpedAfterSec?.includes(second)) noteBurpedByPage(session);
    keepPart(session);
  }
  if (session.keeping.trouble) throw new Error(session.keeping.trouble.text);
  endFeed(session, 'button', startMs + 1000 * second);
}
