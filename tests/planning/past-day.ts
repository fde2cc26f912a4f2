/** A past day for tests: amounts with milk left in each bottle, the hours shared out evenly. */
import type { PastDay } from '../../src/planning/intake/intake-model.ts';
import type { SeenFeed } from '../../src/planning/intake/seen-feed.ts';

export const pastDay = (
  day: { ageDays: number; daysAgo: number; hours: number; feedsMl: readonly number[] },
  part: Partial<SeenFeed> = {},
): PastDay => ({
  ageDays: day.ageDays,
  daysAgo: day.daysAgo,
  feeds: day.feedsMl.map((ml) => ({
    ml,
    hours: day.hours / day.feedsMl.length,
    emptied: false,
    pouredShare: 0,
    ...part,
  })),
});
