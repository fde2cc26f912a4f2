/** The services of the page, with or without a sleeve. */
import { PlainError } from '../base/errors.ts';
import type { LiveFeed } from '../feed/live/live.ts';
import type { KeptFeed } from '../feed/record/feed.ts';
import type { FeedStore } from '../store/feed-store.ts';
import type { Aside } from './aside/aside.ts';
import { keptAside, packingAside, reviewAside, studyAside } from './aside/aside-services.ts';
import { babyService } from './babies/babies-service.ts';
import { familySurroundings } from './kept/family-zone.ts';
import { keptService } from './kept/kept-service.ts';
import { packingService } from './packing/packing-service.ts';
import { describeTechnique, markedPractice } from './practice/practice.ts';
import type { GraphOptions } from './review/graph-options.ts';
import { reviewService } from './review/review-service.ts';
import { listAloneFeeds } from './sleeve/fetched-alone.ts';
import { noSleeve } from './sleeve/no-sleeve.ts';
import type { Watching } from './sleeve/watched-feed.ts';
import { studyService } from './study/page/study-service.ts';
import { studyChoices } from './study/study-feeds.ts';
import { STUDY_CLOCK, studiesAmong } from './study/study-folder.ts';
import { passportsOf, runningTeats } from './teats/teat-passports.ts';
import { webFolder } from './web-folder.ts';

/** With a sleeve that is watched; in practice it knows no babies, and says that it is practice. */
export function watchedPage(
  { store, folder, practice }: Pick<Watching, 'store' | 'folder' | 'practice'>,
  aside: Aside,
  feed: LiveFeed,
) {
  const { babies, ...ofAll } = pageServices(store, folder, aside, () =>
    feed.command({ kind: 'setup', setup: store.readSetup() }),
  );
  const live = practice ? markedPractice(feed) : feed;
  return { live, ...ofAll, ...(!practice && { babies }), technique: describeTechnique };
}

/** Without a sleeve: it records nothing. */
export function keptPage(
  { store, folder, simulated }: Pick<Watching, 'store' | 'folder' | 'simulated'>,
  aside: Aside,
) {
  const { kept, ...ofAll } = pageServices(store, folder, aside);
  return { ...ofAll, kept: { ...kept, forget: refuseForgetting }, live: noSleeve(store, simulated) };
}

/** Deleting a baby needs the folder without other users. */
function refuseForgetting(baby: string): never {
  throw new PlainError(
    'open-keeps',
    'Nothing was deleted: this page only reads and writes beside what is kept.',
    `In a terminal run: ebbline data forget "${baby}".`,
  );
}

/** @param aside does what is heavy @param onForgotten told after a baby is deleted */
const pageServices = (
  store: FeedStore,
  folder: string,
  aside: Aside,
  onForgotten: () => void = () => {},
) => ({
  feeds: store,
  aloneFeeds: () => listAloneFeeds(store),
  graph: ({ id }: KeptFeed, how: GraphOptions) => aside.run('graph', id, how),
  png: ({ id }: KeptFeed, how: GraphOptions) => aside.run('graphPng', id, how),
  babies: babyService(store),
  kept: keptAside(keptService(store, folder, onForgotten), aside),
  review: reviewAside(
    reviewService(store, familySurroundings(store), (teat) => passportsOf(store.files, teat)),
    aside,
  ),
  packing: packingAside(
    packingService(store, familySurroundings(store), () => runningTeats(store.files)),
    aside,
  ),
  studies: studyAside(studyService(studiesAmong(store.files)), aside),
  studyChoices: () => studyChoices(studiesAmong(store.files), STUDY_CLOCK),
  practice: async (seed: number) => (await import('./practice/practice-pair.ts')).practicePair(seed),
  webFolder: webFolder(),
  onError: (error: unknown) => {
    process.stderr.write(`ebbline: the page met a fault: ${String(error)}\n`);
  },
});
