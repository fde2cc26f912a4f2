/** A store on disk with given feeds. */
import type { KeptFeed } from '../../src/feed/record/feed.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';

/** @param nowMs the store's clock */
export function storeOf(
  folder: string,
  feeds: readonly KeptFeed[],
  nowMs: () => number = Date.now,
): FeedStore {
  const store = openStore(folder, { recording: true, softwareVersion: '0.1.0', nowMs });
  for (const feed of feeds) {
    const { calibration, rows, cues, told, events, refined, ...summary } = feed;
    store.begin({ ...summary, state: 'open', endedAtMs: null, endReason: null }, calibration);
    const { intakeMl, spiltMl, addedMl, durationSec } = feed;
    store.append(feed.id, {
      rows,
      cues,
      ...(told && { told }),
      events,
      bytes: [],
      intakeMl,
      spiltMl,
      addedMl,
      durationSec,
    });
    if (feed.state === 'ended')
      store.finish(feed.id, { endReason: feed.endReason!, endedAtMs: feed.endedAtMs!, refined });
  }
  return store;
}

/** The same feed at another time. */
export function feedAt(
  feed: KeptFeed,
  id: string,
  startedAtMs: number,
  part: Partial<KeptFeed> = {},
): KeptFeed {
  const later = startedAtMs - feed.startedAtMs;
  return {
    ...feed,
    id,
    startedAtMs,
    sampleZeroAtMs: feed.sampleZeroAtMs + later,
    endedAtMs: feed.endedAtMs && feed.endedAtMs + later,
    ...part,
  };
}
