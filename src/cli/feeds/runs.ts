/** What the commands about feeds and days do. */
import { openFeeds } from '../../app/babies/open-feeds.ts';
import { openFeedsText } from '../../app/babies/whose-text.ts';
import { addedByHand } from '../../app/review/hand-entry.ts';
import { feedsText, pageOf } from '../../app/review/told-text.ts';
import { PlainError } from '../../base/errors.ts';
import { shown } from '../print-out.ts';
import { onStore } from '../with-store.ts';
import type { FeedRuns } from './commands.ts';

export const runs: FeedRuns = {
  /** As JSON all feeds, unless a page is requested. */
  'feeds list': onStore((store, { discarded = false, page: no, perPage, json, simulated }, folder) => {
    const all = store.list({ discarded });
    const page = pageOf(all, no ?? 1, perPage);
    const hint = simulated ? '' : ' For those of the simulated sleeve add --simulated.';
    return shown(json, no === undefined ? all : page.feeds, () =>
      all.length === 0 ? `No feeds are kept in ${folder}.${hint}` : feedsText(page),
    );
  }),
  'feeds graph': async (given) => (await import('./graph.ts')).drawFeed(given),
  'feeds again': async (given) => (await import('./days.ts')).computeAgain(given),
  'feeds add': onStore((store, given) => addedByHand(store, given.kind, given)),
  'feeds whose': onStore((store, { feeds, baby, another = false, json }) => {
    if (feeds !== undefined && (baby === undefined) !== another)
      throw new PlainError(
        'whose-unsaid',
        'It was not said whose the feeds are. Nothing was changed.',
        'Add --baby with a name or number, or --another for a baby that is not in the list.',
      );
    if (feeds !== undefined) store.sayWhose(feeds, baby ?? null);
    return shown(json, openFeeds(store), openFeedsText);
  }),
  'feeds export': async (given) => (await import('./exchange.ts')).exportFeeds(given),
  'feeds import': async (given) => (await import('./exchange.ts')).importFeeds(given),
  day: async (given) => (await import('./days.ts')).showDay(given),
  week: async (given) => (await import('./days.ts')).showWeek(given),
};
