/** What a sleeve kept of the feeds that it guided alone is fetched when it is there again, and kept once. */
import {
  catchError,
  EMPTY,
  exhaustMap,
  filter,
  firstValueFrom,
  from,
  type SchedulerLike,
  type Subscription,
} from 'rxjs';
import { hello } from '../../../firmware-bridge/links/hello.ts';
import type { SleeveLink } from '../../../firmware-bridge/links/link.ts';
import { monotonic } from '../../../firmware-bridge/links/monotonic.ts';
import { PlainError } from '../../base/errors.ts';
import { type AloneFeed, aloneFeeds } from '../../calibration/alone/kept-feeds.ts';
import { type KeptAloneFeed, mergeAloneFeeds, readAloneFeeds } from '../../calibration/alone/kept-list.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { familyZone } from '../kept/family-zone.ts';
import { ALONE_LAYOUT } from './alone-block.ts';
import { aloneTalk } from './alone-talk.ts';

export type { KeptAloneFeed };

type AloneStore = Pick<FeedStore, 'readAloneFeeds' | 'writeAloneFeeds'>;

/** Newest first, for the page. */
export const listAloneFeeds = (store: AloneStore & Pick<FeedStore, 'readZone'>) => ({
  feeds: readAloneFeeds(store.readAloneFeeds()).reverse(),
  zone: familyZone(store).zone,
});

/** @returns how many of them were not kept yet */
export function keepAloneFeeds(
  store: AloneStore,
  fetched: readonly AloneFeed[],
  of: { sleeveId: string; fetchedAtMs: number },
): number {
  const { feeds, added } = mergeAloneFeeds(readAloneFeeds(store.readAloneFeeds()), fetched, of);
  store.writeAloneFeeds(feeds);
  return added;
}

export interface FetchingOptions {
  link: SleeveLink;
  /** This computer's key; null: no sleeve was turned on from here, so none is asked. */
  owner: number | null;
  store: AloneStore;
  wallNowMs: () => number;
  /** Told when new ones were kept. */
  onKept: (added: number) => void;
  scheduler?: SchedulerLike;
}

/** Fetches each time the link opens. A sleeve that cannot guide alone, is another computer's or keeps nothing is left in peace. */
export function fetchAloneFeeds(options: FetchingOptions): Subscription {
  const { link, owner, store, wallNowMs, onKept, scheduler = monotonic } = options;
  const fetchOnce = async (): Promise<void> => {
    if (owner === null) return;
    // Asked anew: another sleeve may be on the link than a moment ago.
    const { sleeveNumber } = await firstValueFrom(hello(link, {}, scheduler));
    const talk = aloneTalk(link, owner, scheduler);
    const { layout, feeds } = await talk.state();
    if (layout !== ALONE_LAYOUT || feeds === 0) return;
    const added = keepAloneFeeds(store, aloneFeeds(await talk.fetchFeeds()), {
      sleeveId: String(sleeveNumber),
      fetchedAtMs: wallNowMs(),
    });
    if (added > 0) onKept(added);
  };
  return link.state$
    .pipe(
      filter(({ kind }) => kind === 'open'),
      exhaustMap(() =>
        from(fetchOnce()).pipe(
          // It is tried again at the next start; nothing of it is lost meanwhile.
          catchError((error) => {
            if (error instanceof PlainError) return EMPTY;
            throw error;
          }),
        ),
      ),
    )
    .subscribe();
}
