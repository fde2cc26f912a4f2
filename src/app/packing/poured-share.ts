/** Poured share of a stored feed: milk that flowed faster than the rate of the pouring bucket. */
import type { FeedRow, KeptFeed } from '../../feed/record/feed.ts';
import type { ListedFeed } from '../../feed/record/written-by-hand.ts';
import { SHIPPED_PROFILE } from '../../pacing/profile/shipped-profile.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';

/** Rows are read only for feeds that as a whole were faster than usual at the breast. */
const worthReading = ({ intakeMl, durationSec }: ListedFeed): boolean =>
  durationSec > 0 && (60 * intakeMl) / durationSec > SHIPPED_PROFILE.buckets.lasting.rateMlPerMin.value;

/** @returns share of the milk, 0 to 1 */
export function shareAbove(rows: readonly FeedRow[], fastMlPerMin: number): number {
  let fastMl = 0;
  let allMl = 0;
  for (let i = 1; i < rows.length; i++) {
    const ml = Math.max(0, rows[i]!.intakeMl - rows[i - 1]!.intakeMl);
    allMl += ml;
    if ((rows[i]!.flowMlPerMin ?? 0) > fastMlPerMin) fastMl += ml;
  }
  return allMl > 0 ? fastMl / allMl : 0;
}

/** Cache: an ended feed does not change. */
const READ = new WeakMap<FeedJournal, Map<string, number>>();

export function pouredShareOf(store: FeedJournal, feed: ListedFeed): number {
  if (!worthReading(feed)) return 0;
  const read = READ.get(store) ?? new Map<string, number>();
  READ.set(store, read);
  const known = read.get(feed.id);
  if (known !== undefined) return known;
  const kept = store.get(feed.id);
  const share = kept ? shareAbove(kept.rows, fastOf(kept)) : 0;
  read.set(feed.id, share);
  return share;
}

const fastOf = ({ ran }: KeptFeed): number =>
  (ran?.profile ?? SHIPPED_PROFILE).buckets.pouring.rateMlPerMin.value;
