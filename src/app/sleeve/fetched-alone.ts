/** Fetches the feeds that a sleeve guided alone when it is connected again, and stores each once. */
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

/** @returns the number of new feeds */
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
  /** This computer's key; null: no sleeve was set up from here, so none is asked. */
  owner: number | null;
  store: AloneStore;
  wallNowMs: () => number;
  /** Called when new feeds were stored. */
  onKept: (added: number) => void;
  scheduler?: SchedulerLike;
}

/** Fetches each time the link opens. Nothing happens with a sleeve that cannot guide alone, belongs to another computer or has no feeds. */
export function fetchAloneFeeds(options: FetchingOptions): Subscription {
  const { link, owner, store, wallNowMs, onKept, scheduler = monotonic } = options;
  const fetchOnce = async (): Promise<void> => {
    if (owner === null) return;
    // Ask again, since the sleeve may have been exchanged.
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
          // An error is ignored: the next start tries again, and the sleeve still has the feeds.
          catchError((error) => {
            if (error instanceof PlainError) return EMPTY;
            throw error;
          }),
        ),
      ),
    )
    .subscribe();
}
