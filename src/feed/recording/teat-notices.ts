/** Whether the nipple is to be asked about: milk ran too fast again and again with it. Pure. */
import { sameName } from '../../base/babies.ts';
import type { NoticeKind } from '../live/live-view.ts';
import type { PastFeed } from '../record/baby.ts';
import type { FeedSetup } from '../record/feed.ts';

type Teat = Pick<FeedSetup, 'teatName' | 'teatFlow'>;

/** Of the latest feeds with this nipple so many with so many cues to ease off. Own choice, no source: a hand that is quick one day is no nipple. */
const RECURS = { ofLatest: 5, feeds: 3, cues: 2 };

const isSameTeat = (one: Teat, other: Teat): boolean =>
  sameName(one.teatName ?? null, other.teatName ?? null) &&
  (one.teatFlow ?? null) === (other.teatFlow ?? null);

/** @param past newest first; feeds that "slower" could not come in are left out @returns one notice at most */
export function teatNotices(past: readonly PastFeed[], teat: Teat): NoticeKind[] {
  const withIt = past
    .filter((feed) => !feed.isUnguided && isSameTeat(feed.teat ?? {}, teat))
    .slice(0, RECURS.ofLatest);
  const poured = withIt.filter(({ cueCounts }) => (cueCounts['tilt-down'] ?? 0) >= RECURS.cues);
  if (poured.length < RECURS.feeds) return [];
  return [teat.teatFlow === 'slow' ? 'slow-nipple-pours' : 'nipple-pours'];
}
