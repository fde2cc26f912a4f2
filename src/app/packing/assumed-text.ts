/** What a plan assumes, in a terminal's words. */
import type { Assumption } from '../../planning/bag/assumptions.ts';
import type { PackingAnswer } from '../../planning/bag/packing.ts';

export const ASSUMED: Record<Assumption['id'], (answer: PackingAnswer) => string> = {
  'own-feeds': ({ bottleFeeds }) =>
    bottleFeeds === 0
      ? 'No bottle feed of this baby is kept yet.'
      : `This baby’s own rate, from ${bottleFeeds} bottle feeds.`,
  curve: ({ ageDays }) => `Milk a day at ${ageDays} days of age, where own feeds are few.`,
  'between-babies': () => 'Babies differ widely around that curve.',
  'day-to-day': () => 'One baby’s days differ by 14 %.',
  spells: () =>
    'Some days in a row bring less or more milk, and each may be the last; after less, often more.',
  'feed-to-feed': () => 'Feeds of a day differ by a third until enough are known.',
  refused: () => 'A bottle of up to 10 mL counts as refused; 3 in 100 are, until feeds are known.',
  emptied: () => 'A bottle that comes back with up to 5 mL is emptied: at least that was wanted.',
  poured: () => 'Milk faster than the band: once to twice what was wanted may have gone in.',
  'bottle-price': () => 'A bottle more to fill and wash is worth some milk.',
  'rule-of-thumb': () => '1 to 1½ fl oz an hour, while fewer than six own bottles are known.',
  sizes: () => 'Bottles of 2 to 4 fl oz, small ones of 1 to 3.',
  'left-over': () => 'What is left in an opened bottle counts as thrown away.',
  close: () => 'Nobody opens a bottle for the last 2.5 mL.',
};
