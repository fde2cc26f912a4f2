/** The service of the pages about past feeds: joins store, review and the milk list. */
import { dayOf } from '../../base/calendar.ts';
import { FieldError } from '../../base/errors.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { knownBaby } from '../babies/known-babies.ts';
import { openFeeds } from '../babies/open-feeds.ts';
import { chooseZone, familySurroundings, familyZone } from '../kept/family-zone.ts';
import type { Surroundings } from '../packing/plan-for.ts';
import { dayAnswers } from './day-answers.ts';
import { feedAnswers, type PassportsOf } from './feed-answers.ts';
import { findFeeds } from './find.ts';
import { writtenEntry } from './hand-entry.ts';
import type { ReviewService } from './review-answers.ts';

/** @param passportsOf the family's measurements of a nipple */
export function reviewService(
  store: FeedJournal,
  around: Surroundings,
  passportsOf: PassportsOf = () => [],
): ReviewService {
  return {
    find: (query) => findFeeds(store, query, around),
    ...feedAnswers(store, around, passportsOf),
    ...dayAnswers(store, around),
    writeFeed(body) {
      const { zone } = around;
      const entry = writtenEntry(body, zone);
      const { id, atMs } = store.addHandFeed(entry);
      return { id, day: dayOf(atMs, zone) };
    },
    takeBackFeed(id) {
      store.correctHandFeed(id, { kind: 'withdrawn' });
      return { id };
    },
    zone: () => familyZone(store),
    setZone: (body) => chooseZone(store, (body as { zone?: unknown } | null)?.zone),
    whose: () => openFeeds(store),
    sayWhose(body) {
      const { feeds, baby } = (body ?? {}) as { feeds?: unknown; baby?: unknown };
      if (typeof feeds !== 'string' || (typeof baby !== 'string' && baby !== null))
        throw new FieldError(
          'whose-unsaid',
          'baby',
          'It was not said whose the feeds are.',
          'Choose a baby.',
        );
      store.sayWhose(feeds, baby);
      return openFeeds(store);
    },
  };
}

/** The same for a command. @throws PlainError baby-unknown, since of an unknown baby it would show an empty day */
export function reviewFor(store: FeedJournal, { baby }: { baby?: string }): ReviewService {
  if (baby !== undefined) knownBaby(store, baby, Date.now());
  return reviewService(store, familySurroundings(store));
}
