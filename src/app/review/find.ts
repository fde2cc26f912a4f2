/** Feeds found by day, baby, bottle and nipple, a page at a time. */
import { babyCalled, isOpen } from '../../base/babies.ts';
import { dayAfter, dayStartMs } from '../../base/calendar.ts';
import type { ListedFeed } from '../../feed/record/written-by-hand.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { feedsOf, type ListChoice } from '../../store/database/feed-list.ts';
import { knownBabies, namedNow } from '../babies/known-babies.ts';
import type { Surroundings } from '../packing/plan-for.ts';
import { dayIn, textOf } from './queries.ts';
import type { FoundFeeds, Query } from './review-answers.ts';

const PAGE_FEEDS = 30;
/** Number of latest feeds from which names are collected. */
const NAMES_FROM = 200;

/** @throws FieldError for a day that is none */
export function findFeeds(store: FeedJournal, query: Query, { nowMs, zone }: Surroundings): FoundFeeds {
  const before = Number(query.before);
  const until = dayIn(query, 'until', zone);
  const all = store.allBabies();
  const who = textOf(query, 'baby');
  const baby =
    who === undefined
      ? null
      : babyCalled(
          all.filter((one) => !isOpen(one)),
          who,
        );
  const filter: ListChoice = baby ? feedsOf(baby) : who === undefined ? {} : { onlyNames: [who] };
  const [bottleName, teatName] = [textOf(query, 'bottle'), textOf(query, 'teat')];
  if (bottleName !== undefined) filter.bottleName = bottleName;
  if (teatName !== undefined) filter.teatName = teatName;
  if (until !== undefined) filter.toMs = dayStartMs(dayAfter(until), zone);
  if (query.before !== undefined && Number.isFinite(before)) filter.beforeMs = before;
  // One more than is shown, to know whether there is another page.
  const found = store.list({ ...filter, limit: PAGE_FEEDS + 1 });
  const feeds = found.slice(0, PAGE_FEEDS).map((feed) => namedNow(feed, all));
  return {
    feeds,
    zone,
    next: found.length > PAGE_FEEDS ? feeds.at(-1)!.atMs : null,
    names: {
      ...namesOf(store.list({ limit: NAMES_FROM })),
      babies: knownBabies(store, nowMs()).filter(({ name }) => name !== null),
    },
  };
}

function namesOf(feeds: readonly ListedFeed[]): Omit<FoundFeeds['names'], 'babies'> {
  const setups = feeds.map(({ corrected, setup }) => corrected?.setup ?? setup);
  const distinct = (names: (string | null | undefined)[]): string[] => {
    const seen = new Map<string, string>();
    for (const name of names) if (name && !seen.has(name.toLowerCase())) seen.set(name.toLowerCase(), name);
    return [...seen.values()];
  };
  return {
    bottles: distinct(setups.map(({ bottleName }) => bottleName)),
    teats: distinct(setups.map(({ teatName }) => teatName)),
  };
}
