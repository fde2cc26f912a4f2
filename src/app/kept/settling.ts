/** Work after an ended feed: the refined pass and packing of its capture, by the helper process, one feed after another. */
import { PlainError } from '../../base/errors.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import type { Aside } from '../aside/aside.ts';

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
