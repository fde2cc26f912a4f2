/** The service behind the page about what is kept. */

import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { exportLines } from '../../store/portable/export.ts';
import type { KeptService } from './kept-answers.ts';

/** @param onForgotten  told after a baby is deleted: whoever holds the last answers reads them anew, lest the name come back */
export function keptService(
  store: FeedStore,
  folder: string,
  onForgotten: () => void = () => {},
): KeptService {
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
