/** Feeds whose baby has to be named by a person; used by the page and by `ebbline feeds whose`. */
import { isOpen, keyOf } from '../../base/babies.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import type { OpenFeeds } from '../review/review-answers.ts';

/** @returns these feeds, latest first */
export function openFeeds(store: FeedJournal): OpenFeeds[] {
  const all = store.allBabies();
  return all.filter(isOpen).map((baby) => ({
    key: keyOf(baby),
    name: baby.name ?? '',
    count: baby.feeds + baby.handFeeds,
    isFromElsewhere: baby.id !== null,
    choices: baby.mayBe
      .flatMap((id) => all.filter((one) => one.id === id))
      .map(({ id, name, birthDay }) => ({ id, name, birthDay })),
  }));
}
