/** When a feed ends while the live page is open, the page goes to the page after the feed by itself. */
import { useEffect, useRef } from 'preact/hooks';
import type { LiveView } from '../../feed/live/live-view.ts';
import { isUnkept } from '../live/notices.ts';
import { addressOf } from '../parts/route.ts';

/** Result of one view. Pure. */
export interface Ending {
  /** The open feed; null if none was seen open. */
  openId: string | null;
  /** The feed that ended with this view; null if none did. */
  endedId: string | null;
}

/** @param openId the feed that was open, or has ended and is not stored yet (it has no page to show yet) */
export function stepEnding(openId: string | null, view: LiveView): Ending {
  if (view.feedState === 'open') return { openId: view.feedId, endedId: null };
  if (openId === null || view.feedState !== 'ended' || view.feedId !== openId)
    return { openId: null, endedId: null };
  return isUnkept(view) ? { openId, endedId: null } : { openId: null, endedId: openId };
}

/** @param isLive whether the live page is open: on other pages nobody is interrupted */
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
