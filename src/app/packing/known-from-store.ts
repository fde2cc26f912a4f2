/** What planning needs of the store: feeds of one baby, ended feeds for the milk ledger. */
import { type BabyRef, isOf } from '../../base/babies.ts';
import { DAY_MS } from '../../base/calendar.ts';
import type { HandFeed, ListedFeed } from '../../feed/record/written-by-hand.ts';
import type { KnownFeed } from '../../planning/intake/known-feeds.ts';
import type { EndedFeed } from '../../planning/milk/stored-ledger.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { pouredShareOf } from './poured-share.ts';

/** Older feeds are not used. */
const LOOK_BACK_MS = 43 * DAY_MS;
/** For how long a feed is proposed as an entry of the milk ledger. */
const PROPOSED_MS = 2 * DAY_MS;

const setupOf = ({ corrected, setup }: ListedFeed) => corrected?.setup ?? setup;

export function knownFeeds(store: FeedJournal, baby: BabyRef, nowMs: number): KnownFeed[] {
  const choice = { fromMs: nowMs - LOOK_BACK_MS, toMs: nowMs + 1 };
  const measured = store
    .list(choice)
    .filter((feed) => feed.state === 'ended' && isOf(setupOf(feed), baby))
    .map((feed) => ({
      atMs: feed.atMs,
      durationSec: feed.durationSec,
      leftBottleMl: feed.intakeMl,
      offeredMl: feed.corrected?.reading?.offeredMl ?? setupOf(feed).portionMl,
      pouredShare: pouredShareOf(store, feed),
    }));
  const written = store
    .listHandFeeds(choice)
    .filter((feed) => isOf(feed, baby))
    .map((feed) => ({
      atMs: feed.atMs,
      durationSec: feed.durationSec,
      leftBottleMl: leftBottleOf(feed),
      offeredMl: feed.kind === 'breast' ? null : feed.offeredMl,
    }));
  return [...measured, ...written];
}

function leftBottleOf({ kind, offeredMl, leftMl }: HandFeed): number | null {
  if (kind === 'breast') return null;
  if (offeredMl !== null && leftMl !== null) return Math.max(0, offeredMl - leftMl);
  return kind === 'refused' ? 0 : null;
}

/** Feeds with a bottle, measured or written in by hand, latest first. */
export function endedFeeds(store: FeedJournal, nowMs: number): EndedFeed[] {
  const fromMs = nowMs - PROPOSED_MS;
  const measured = store
    .list({ fromMs })
    .filter(({ state, endedAtMs }) => state === 'ended' && endedAtMs !== null && endedAtMs <= nowMs)
    .map((feed) => ({
      id: feed.id,
      // The ledger uses whole milliseconds.
      startedAtMs: Math.round(feed.atMs),
      endedAtMs: Math.round(feed.atMs + feed.durationSec * 1000),
      leftBottleMl: Math.round(feed.intakeMl * 10) / 10,
      offeredMl: feed.corrected?.reading?.offeredMl ?? setupOf(feed).portionMl,
    }));
  const written = store.listHandFeeds({ fromMs, toMs: nowMs + 1 }).flatMap((feed) => {
    const leftBottleMl = leftBottleOf(feed);
    const startedAtMs = Math.round(feed.atMs);
    const endedAtMs = Math.round(feed.atMs + (feed.durationSec ?? 0) * 1000);
    return leftBottleMl === null || endedAtMs > nowMs
      ? []
      : [{ id: feed.id, startedAtMs, endedAtMs, leftBottleMl, offeredMl: feed.offeredMl }];
  });
  return [...measured, ...written].sort((one, other) => other.startedAtMs - one.startedAtMs);
}
