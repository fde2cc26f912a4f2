/** Work after an ended feed: the refined pass and packing of its capture, by the helper process, one feed after another. */
import { PlainError } from '../../base/errors.ts';
import type { LiveFeed } from '../../feed/live/live.ts';
import type { LiveView } from '../../feed/live/live-view.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import type { Aside } from '../aside/aside.ts';
import type { Unkept } from './keep-trying.ts';

export interface Settling {
  settle(feedId: string): void;
  /** Resolves when nothing is left to do. */
  done(): Promise<void>;
}

/** If something fails, the feed stays as it is and is processed at the next start. @param onSettled called after each feed, processed or not */
export function settling(
  store: Pick<FeedStore, 'get' | 'refine' | 'settlePacked'>,
  aside: Pick<Aside, 'run'>,
  onSettled: (feedId: string) => void = () => {},
): Settling {
  let last: Promise<void> = Promise.resolve();
  const settleNow = async (feedId: string): Promise<void> => {
    try {
      if (store.get(feedId)?.refined === null) {
        const refined = await aside.run('refined', feedId);
        if (refined) store.refine(feedId, refined);
      }
      store.settlePacked(feedId, await aside.run('packCapture', feedId));
    } catch (error) {
      if (!(error instanceof PlainError)) throw error;
    } finally {
      onSettled(feedId);
    }
  };
  return {
    settle(feedId) {
      last = last.then(() => settleNow(feedId));
    },
    done: () => last,
  };
}

/** Finishes each feed that has ended and for which no data is waiting; knows what is waiting. */
export function settleEnded(live: Pick<LiveFeed, 'view$'>, after: Settling) {
  let unkept: Unkept = { feedIds: [], notice: null };
  const over = new Set<string>();
  const seen = live.view$.subscribe((view) => {
    const id = endedIn(view);
    if (id !== null && !over.has(id)) after.settle(id);
    if (id !== null) over.add(id);
    unkept = { feedIds: view.unkept ?? [], notice: view.notice };
  });
  return { unkept: () => unkept, close: () => seen.unsubscribe() };
}

/** @returns the last feed, if it has ended and is stored */
const endedIn = ({ feedId, feedState, unkept = [] }: LiveView): string | null =>
  feedId !== null && (feedState === 'ended' || feedState === 'discarded') && !unkept.includes(feedId)
    ? feedId
    : null;
