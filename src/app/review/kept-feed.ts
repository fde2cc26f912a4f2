/** A kept feed by its name, as a command is given it. */
import { PlainError } from '../../base/errors.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { FeedStore } from '../../store/feed-store.ts';

/** @throws PlainError feed-unknown */
export function keptFeed(store: Pick<FeedStore, 'get'>, feedId: string): KeptFeed {
  const feed = store.get(feedId);
  if (feed) return feed;
  throw feedUnknown(`There is no kept feed ${feedId}.`);
}

export const feedUnknown = (what: string): PlainError =>
  new PlainError(
    'feed-unknown',
    what,
    'List them with "ebbline feeds"; those of the simulated sleeve need --simulated.',
  );
