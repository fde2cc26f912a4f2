/** The service of the page about stored data. */

import { SOFTWARE_VERSION } from '../../base/version.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { exportLines } from '../../store/portable/export.ts';
import type { KeptService } from './kept-answers.ts';

/** @param onForgotten  called after a baby is deleted: the live feed must read the stored answers again, or the name would be written back */
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
