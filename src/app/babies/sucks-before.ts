/** Finds what a suck gave in a baby's latest feeds with the same nipple, bottle and kind of milk. */
import { sameName } from '../../base/babies.ts';
import { DAY_MS } from '../../base/calendar.ts';
import type { FeedSetup } from '../../feed/record/feed.ts';
import { EARLIER_DAYS, EARLIER_FEEDS, levelSuckGrams } from '../../feed/recording/earlier-sucks.ts';
import { isSameTeat } from '../../feed/recording/teat-notices.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';

type Feeds = Pick<FeedJournal, 'list' | 'get'>;

const isGivenAlike = (one: FeedSetup, other: FeedSetup): boolean =>
  isSameTeat(one, other) &&
  sameName(one.bottleName, other.bottleName) &&
  (one.milkKind ?? null) === (other.milkKind ?? null);

/** @returns g a suck from a level bottle, newest first; none where no nipple is named @throws PlainError when the store cannot be read */
export function sucksBefore(store: Feeds, babyId: string, setup: FeedSetup, nowMs: number): number[] {
  if (!setup.teatName && !setup.teatFlow) return [];
  const grams: number[] = [];
  const alike = store
    .list({ babyId, fromMs: nowMs - EARLIER_DAYS * DAY_MS })
    .filter((feed) => feed.state === 'ended' && isGivenAlike(feed.corrected?.setup ?? feed.setup, setup));
  for (const { id } of alike) {
    if (grams.length === EARLIER_FEEDS) break;
    const one = suckOf(store, id);
    if (one !== null) grams.push(one);
  }
  return grams;
}

function suckOf(store: Feeds, id: string): number | null {
  try {
    const feed = store.get(id);
    return feed?.refined ? levelSuckGrams(feed.refined, feed.rows) : null;
  } catch {
    // It only improves a start: an old feed that cannot be read, for whatever reason, must not hold up this one.
    return null;
  }
}
