import { openFeeds } from '../../app/babies/open-feeds.ts';
import { openFeedsSentence } from '../../app/babies/whose-text.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';

/** Warns, on standard error, that some feeds have no certain baby and are missing in other answers. */
export function warnOpen(store: FeedJournal): void {
  for (const open of openFeeds(store))
    process.stderr.write(
      `${openFeedsSentence(open)} They are left out until you say whose: ebbline feeds whose\n`,
    );
}
