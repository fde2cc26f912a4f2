/** The desk behind the page about what is kept. */
import type { KeptDesk } from '../../server/kept.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { exportLines } from '../../store/files/export.ts';
import { SOFTWARE_VERSION } from '../../version.ts';

export function keptDesk(store: FeedStore, folder: string): KeptDesk {
  const kept = () => ({ folder, babies: store.babiesKept() });
  return {
    kept,
    forget(baby) {
      const { feeds, handFeeds, mentions, unreachable } = store.forget(baby);
      return { kept: kept(), feeds, handFeeds, mentions, unreachable };
    },
    exportLines: () => exportLines(store, { nowMs: Date.now(), softwareVersion: SOFTWARE_VERSION }),
  };
}
