/** The review service with feeds that are in no store; corrections are only held in memory. */

import type { ReviewService } from '../../src/app/review/review-answers.ts';
import { reviewService } from '../../src/app/review/review-service.ts';
import { babiesFrom } from '../../src/base/babies.ts';
import type { KeptFeed } from '../../src/feed/record/feed.ts';
import type { FeedJournal } from '../../src/store/database/feed-journal.ts';
import { listed } from './kept-feeds.ts';

export function reviewOf(kept: readonly KeptFeed[], nowMs: number): ReviewService {
  const feeds = kept.map((feed) => ({ ...listed(feed), atMs: feed.startedAtMs, corrected: null }));
  const store = {
    list: () => feeds,
    get: (id: string) => kept.find((feed) => feed.id === id) ?? null,
    between: ({ fromMs, toMs }: { fromMs: number; toMs: number }) => ({
      feeds: feeds.filter(({ atMs }) => atMs >= fromMs && atMs < toMs),
      handFeeds: [],
    }),
    allBabies: () =>
      babiesFrom(
        [],
        feeds.map(({ setup, atMs }) => ({
          id: setup.babyId ?? null,
          name: setup.babyName,
          birthDay: setup.babyBirthDate,
          lastFedAtMs: atMs,
          feeds: 1,
          handFeeds: 0,
        })),
        [],
      ),
    readMilkEvents: () => [],
    readPacking: () => null,
  } as unknown as FeedJournal;
  return reviewService(store, { nowMs: () => nowMs, zone: 'UTC' });
}
