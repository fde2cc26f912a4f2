/** Whether to ask about the nipple, because milk ran too fast with it in several feeds. Pure. */
import { sameName } from '../../base/babies.ts';
import type { NoticeKind } from '../live/live-view.ts';
import type { PastFeed } from '../record/baby.ts';
import type { FeedSetup } from '../record/feed.ts';

export type Teat = Pick<FeedSetup, 'teatName' | 'teatFlow'>;

/** So many of the latest feeds with this nipple had so many cues to lower the bottle. Own choice, no source: one such feed may be due to the hand. */
const RECURS = { ofLatest: 5, feeds: 3, cues: 2 };

export const isSameTeat = (one: Teat, other: Teat): boolean =>
  sameName(one.teatName ?? null, other.teatName ?? null) &&
  (one.teatFlow ?? null) === (other.teatFlow ?? null);

/** @param past newest first; feeds without "slower" cues are left out @returns one notice at most */
export function teatNotices(past: readonly PastFeed[], teat: Teat): NoticeKind[] {
  const withIt = past
    .filter((feed) => !feed.isUnguided && isSameTeat(feed.teat ?? {}, teat))
    .slice(0, RECURS.ofLatest);
  const poured = withIt.filter(({ cueCounts }) => (cueCounts['tilt-down'] ?? 0) >= RECURS.cues);
  if (poured.length < RECURS.feeds) return [];
  return [teat.teatFlow === 'slow' ? 'slow-nipple-pours' : 'nipple-pours'];
}
