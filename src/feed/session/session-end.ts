/** How a feed ends: by the button, by the page, after long without the teat, or as no feed at all. */
import { createEngine, type Engine, endEngine, refineEngine } from '../engine.ts';
import type { FeedEndReason, FeedState } from '../record/feed.ts';
import { keepForSure } from '../record/keeping.ts';
import type { OpenFeed, Session, SessionOptions } from './session.ts';
import { forgetWhose, guideAnew } from './session-guide.ts';
import { keepPart, keepToTheEnd } from './session-keep.ts';

/** A feed without the teat in the mouth for this long is over (common practice, no source). */
export const TEAT_AWAY_SEC = 45 * 60;

export const watchingEngine = (options: SessionOptions): Engine =>
  createEngine({ calibration: options.calibration, portionMl: null, refinable: false });

export function endIfAsked(session: Session, nowMs: number): void {
  const { feed, lastTick } = session;
  if (!feed || !lastTick) return;
  if (feed.endAsked) endFeed(session, 'button', nowMs);
  else if (lastTick.moment.atSec - feed.lastTeatSec >= TEAT_AWAY_SEC) endFeed(session, 'teat-away', nowMs);
}

/** Ends the open feed: keeps the rest, refines, and watches for the next latch. */
export function endFeed(session: Session, endReason: FeedEndReason, nowMs: number): void {
  const { feed, options } = session;
  if (!feed) return;
  endEngine(feed.engine);
  keepPart(session);
  // Once, and not at each try: it takes a while, and meanwhile nobody is guided.
  const refined = options.refinesLater ? null : refineEngine(feed.engine);
  const { id } = feed.held.summary;
  keepToTheEnd(session, feed.held, () => options.keeper.finish(id, { endReason, endedAtMs: nowMs, refined }));
  closeFeed(session, feed, 'ended');
}

/** "Not a feed": the open one, or the one just ended. */
export function discardFeed(session: Session): void {
  const { feed, lastFeed, options } = session;
  if (feed) {
    keepToTheEnd(session, feed.held, () => options.keeper.discard(feed.held.summary.id));
    closeFeed(session, feed, 'discarded');
  } else if (lastFeed && lastFeed.state === 'ended') {
    keepForSure(session.keeping, () => options.keeper.discard(lastFeed.id));
    session.lastFeed = { ...lastFeed, state: 'discarded' };
  }
}

function closeFeed(session: Session, feed: OpenFeed, state: FeedState): void {
  session.lastFeed = { id: feed.held.summary.id, state, elapsedSec: elapsedSec(feed) };
  session.feed = null;
  session.lastTick = null;
  session.watcher = watchingEngine(session.options);
  session.watcher.gauge = feed.engine.gauge;
  forgetWhose(session);
  guideAnew(session);
}
const elapsedSec = ({ engine, firstLatchSec }: OpenFeed): number =>
  firstLatchSec === null ? 0 : engine.timeline.atMicros / 1e6 - firstLatchSec;
/** Device time since the first latch, seconds; null before any feed. */
export const sessionElapsedSec = ({ feed, lastFeed }: Session): number | null =>
  feed ? elapsedSec(feed) : (lastFeed?.elapsedSec ?? null);
