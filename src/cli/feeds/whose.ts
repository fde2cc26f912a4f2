/** `ebbline feeds whose`: lists feeds without a certain baby, and takes the answer. */
import { openFeeds } from '../../app/babies/open-feeds.ts';
import { openFeedsSentence, openFeedsText } from '../../app/babies/whose-text.ts';
import { PlainError } from '../../base/errors.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { answer } from '../print-out.ts';
import { type Kept, withStore } from '../with-store.ts';

/** Warns, on standard error, that some feeds have no certain baby and are missing in other answers. */
export function warnOpen(store: FeedJournal): void {
  for (const open of openFeeds(store))
    process.stderr.write(
      `${openFeedsSentence(open)} They are left out until you say whose: ebbline feeds whose\n`,
    );
}

export interface WhoseOptions extends Kept {
  baby?: string;
  another?: boolean;
  json?: boolean;
}

/** @throws PlainError whose-unsaid, whose-nothing, whose-nobody, baby-which; nothing was changed then */
export const whoseCommand = (feedsOf: string | undefined, options: WhoseOptions): Promise<void> =>
  withStore(options, (store) => {
    const { baby, another = false } = options;
    if (feedsOf !== undefined && (baby === undefined) !== another)
      throw new PlainError(
        'whose-unsaid',
        'It was not said whose the feeds are. Nothing was changed.',
        'Add --baby with a name or number, or --another for a baby that is not in the list.',
      );
    if (feedsOf !== undefined) store.sayWhose(feedsOf, baby ?? null);
    return answer(options.json, openFeeds(store), openFeedsText);
  });
