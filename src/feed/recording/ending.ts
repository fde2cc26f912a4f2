/** How a feed ends: by the button, by the page, after a long time without the teat, or marked as "not a feed". */
import { createEngine, type Engine, endEngine, refineEngine } from '../engine.ts';
import type { FeedEndReason, FeedState } from '../record/feed.ts';
import { writeOrQueue } from '../record/pending-writes.ts';
import { keepPart, keepToTheEnd } from './keep-part.ts';
import { forgetWhose, guideAnew } from './next-feed.ts';
import type { OpenFeed, Recorder, RecorderOptions } from './recorder.ts';

/** A feed without the teat in the mouth for this long is over (common practice, no source). */
export const TEAT_AWAY_SEC = 45 * 60;

export const watchingEngine = (options: RecorderOptions): Engine =>
  createEngine({ calibration: options.calibration, portionMl: null, refinable: false });

export function endIfAsked(recorder: Recorder, nowMs: number): void {
  const { feed, lastTick } = recorder;
  if (!feed || !lastTick) return;
  if (feed.endAsked) endFeed(recorder, 'button', nowMs);
  else if (lastTick.moment.atSec - feed.lastTeatSec >= TEAT_AWAY_SEC) endFeed(recorder, 'teat-away', nowMs);
}

/** Ends the open feed: stores the rest, runs the refined pass, and watches for the next latch. */
export function endFeed(recorder: Recorder, endReason: FeedEndReason, nowMs: number): void {
  const { feed, options } = recorder;
  if (!feed) return;
  endEngine(feed.engine);
  keepPart(recorder);
  // Computed once and not at each attempt to write: it takes a while, and guidance stands still meanwhile.
  const refined = options.refinesLater ? null : refineEngine(feed.engine);
  const { id } = feed.held.summary;
  keepToTheEnd(recorder, feed.held, () =>
    options.storage.finish(id, { endReason, endedAtMs: nowMs, refined }),
  );
  closeFeed(recorder, feed, 'ended');
}

/** "Not a feed": the open one, or the one just ended. */
export function discardFeed(recorder: Recorder): void {
  const { feed, lastFeed, options } = recorder;
  if (feed) {
    keepToTheEnd(recorder, feed.held, () => options.storage.discard(feed.held.summary.id));
    closeFeed(recorder, feed, 'discarded');
  } else if (lastFeed && lastFeed.state === 'ended') {
    writeOrQueue(recorder.pending, () => options.storage.discard(lastFeed.id));
    recorder.lastFeed = { ...lastFeed, state: 'discarded' };
  }
}

function closeFeed(recorder: Recorder, feed: OpenFeed, state: FeedState): void {
  recorder.lastFeed = { id: feed.held.summary.id, state, elapsedSec: elapsedSec(feed) };
  recorder.feed = null;
  recorder.lastTick = null;
  recorder.watcher = watchingEngine(recorder.options);
  recorder.watcher.gauge = feed.engine.gauge;
  forgetWhose(recorder);
  guideAnew(recorder);
}
const elapsedSec = ({ engine, firstLatchSec }: OpenFeed): number =>
  firstLatchSec === null ? 0 : engine.timeline.atMicros / 1e6 - firstLatchSec;
/** Device time since the first latch, seconds; null before any feed. */
export const elapsedSecOf = ({ feed, lastFeed }: Recorder): number | null =>
  feed ? elapsedSec(feed) : (lastFeed?.elapsedSec ?? null);
