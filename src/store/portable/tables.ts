/** The tables of an export about feeds written in by hand, milk and babies; FORMAT.md beside this file says what each column means. */
import type { Baby } from '../../feed/record/baby.ts';
import type { HandFeed, KeptMilkEvent } from '../../feed/record/written-by-hand.ts';
import { type Table, time, yes } from './table.ts';

/** The file that may also be filled in by hand and imported: all columns after `length_min` may be left empty. */
export const HAND_FEEDS: Table<HandFeed> = {
  file: 'hand-feeds.csv',
  columns: [
    'feed',
    'at',
    'kind',
    'length_min',
    'offered_ml',
    'left_ml',
    'milk_kind',
    'side',
    'baby',
    'initials',
    'note',
    'taken_back',
  ],
  lines: (feed) => [
    [
      feed.id,
      time(feed.atMs),
      feed.kind,
      feed.durationSec === null ? null : feed.durationSec / 60,
      feed.offeredMl,
      feed.leftMl,
      feed.milkKind,
      feed.side,
      feed.babyName,
      feed.caregiver,
      feed.note,
      yes(feed.withdrawn),
    ],
  ],
};

export const MILK: Table<KeptMilkEvent> = {
  file: 'milk.csv',
  columns: ['no', 'at', 'kind', 'container', 'baby', 'entry_json'],
  lines: ({ no, atMs, kind, container, babyId, entry }) => [
    [no, time(atMs), kind, container, babyId, JSON.stringify(entry)],
  ],
};

export const BABIES: Table<Baby> = {
  file: 'babies.csv',
  columns: ['baby', 'name', 'birth_date', 'entered_at', 'pace', 'usual_feed_ml', 'breastfed', 'baby_json'],
  lines: (baby) => [
    [
      baby.id,
      baby.name,
      baby.birthDate,
      time(baby.createdAtMs),
      baby.pace,
      baby.usualFeedMl,
      yes(baby.breastfed),
      JSON.stringify(baby),
    ],
  ],
};
