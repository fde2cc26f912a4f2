/** Records a feed into a store like `ebbline start`, but from given bytes and without a clock. */
import type { FeedSetup } from '../../src/feed/record/feed.ts';
import type { FeedStorage } from '../../src/feed/record/feed-storage.ts';
import { endFeed } from '../../src/feed/recording/ending.ts';
import { addBurpByPage } from '../../src/feed/recording/host-events.ts';
import { keepPart } from '../../src/feed/recording/keep-part.ts';
import { createRecorder, type RecorderOptions, takeBytes } from '../../src/feed/recording/recorder.ts';
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
  guide?: RecorderOptions['guide'];
  /** Seconds after the beginning at which "burped" is touched on the page. */
  burpedAfterSec?: readonly number[];
}

/** Passes all bytes to the storage, a second at a time, and ends the feed. */
export function recordFeed(storage: FeedStorage, feed: RecordedFeed): void {
  const { bytes, calibration, startMs } = feed;
  if (feed.setup) storage.writeSetup(feed.setup);
  const recorder = createRecorder({
    calibration,
    storage,
    newFeedId: () => feed.id,
    simulated: feed.simulated ?? false,
    sleeveId: calibration.sleeveId,
    ...(feed.guide && { guide: feed.guide }),
  });
  let second = 0;
  for (let at = 0; at < bytes.length; at += SECOND_BYTES) {
    takeBytes(recorder, bytes.subarray(at, at + SECOND_BYTES), startMs + 1000 * ++second);
    if (feed.burpedAfterSec?.includes(second)) addBurpByPage(recorder);
    keepPart(recorder);
  }
  if (recorder.pending.trouble) throw new Error(recorder.pending.trouble.text);
  endFeed(recorder, 'button', startMs + 1000 * second);
}
