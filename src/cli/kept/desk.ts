/** The desk behind the page about what is kept. */
import type { KeptDesk } from '../../server/kept.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { exportLines } from '../../store/files/export.ts';
import { SOFTWARE_VERSION } from '../../version.ts';

/** @param onForgotten  told after a baby is deleted: whoever holds the last answers reads them anew, lest the name come back */
export function keptDesk(store: FeedStore, folder: string, onForgotten: () => void = () => {}): KeptDesk {
  const kept = () => ({ folder, babies: store.babiesKept() });
  return {
    kept,
    forget(baby) {
      const { feeds, handFeeds, mentions, unreachable } = store.forget(baby);
      onForgotten();
      return { kept: kept(), feeds, handFeeds, mentions, unreachable };
    },
    exportLines: () => exportLines(store, { nowMs: Date.now(), softwareVersion: SOFTWARE_VERSION }),
  };
}
