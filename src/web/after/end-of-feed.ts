/** A feed that ends while the live page is open leads to its last step by itself. */
import { useEffect, useRef } from 'preact/hooks';
import type { LiveView } from '../../feed/live/live-view.ts';
import { isUnkept } from '../live/notices.ts';
import { addressOf } from '../parts/route.ts';

/** What follows from one more view. Pure. */
export interface Ending {
  /** The feed whose end is waited for; null: none was seen open. */
  openId: string | null;
  /** The feed whose end has just been seen. */
  endedId: string | null;
}

/** @param openId the feed that was open, or is over and not kept yet; there is nothing to see of such a one */
export function stepEnding(openId: string | null, view: LiveView): Ending {
  if (view.feedState === 'open') return { openId: view.feedId, endedId: null };
  if (openId === null || view.feedState !== 'ended' || view.feedId !== openId)
    return { openId: null, endedId: null };
  return isUnkept(view) ? { openId, endedId: null } : { openId: null, endedId: openId };
}

/** @param isLive whether the live page is open: nobody is led away from what they read */
export function useEndOfFeed(view: LiveView | null, isLive: boolean): void {
  const openId = useRef<string | null>(null);
  useEffect(() => {
    if (!view) return;
    const ending = stepEnding(openId.current, view);
    openId.current = ending.openId;
    if (ending.endedId !== null && isLive && !view.practice)
      location.hash = addressOf({ page: 'after', id: ending.endedId });
  }, [view, isLive]);
}
