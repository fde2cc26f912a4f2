/** Feeds whose baby has to be named by a person; used by the page and by `ebbline feeds whose`. */
import { isOpen, keyOf } from '../../base/babies.ts';
import { PlainError } from '../../base/errors.ts';
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

/** Says whose feeds are, where it is asked. @returns those that are still open @throws PlainError whose-unsaid, baby-which … */
export function whoseAsAsked(
  store: FeedJournal,
  { feeds, baby, another = false }: { feeds?: string; baby?: string; another?: boolean },
): OpenFeeds[] {
  if (feeds !== undefined && (baby === undefined) !== another)
    throw new PlainError(
      'whose-unsaid',
      'It was not said whose the feeds are. Nothing was changed.',
      'Add --baby with a name or number, or --another for a baby that is not in the list.',
    );
  if (feeds !== undefined) store.sayWhose(feeds, baby ?? null);
  return openFeeds(store);
}
