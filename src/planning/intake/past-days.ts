/** Past bottles grouped by day, each with the hours since the feed before. */
import { ageInDays, dayOf, HOUR_MS } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import type { PastDay } from './intake-model.ts';

/** A past bottle feed as stored; the time since the feed before counts feeds of any kind, also at the breast. */
export interface PastFeed {
  atMs: number;
  intakeMl: number;
  hoursSinceFeed: number | null;
  emptied?: boolean;
  pouredShare?: number;
}

/** Used when the feed before is not known: every 3 to 4 hours (CDC, infants after the first weeks); the shorter is used. */
const USUAL_GAP_HOURS = 3;
const SHORTEST_GAP_HOURS = 1;
const LONGEST_GAP_HOURS = 6;

/**
 * Groups past feeds by day for the model.
 * @param todayMs instant of planning; a feed after it is refused
 */
export function pastDays(
  feeds: readonly PastFeed[],
  { birthDay, todayMs, zone }: { birthDay: string; todayMs: number; zone: string },
): PastDay[] {
  const today = dayOf(todayMs, zone);
  const byDay = new Map<string, PastFeed[]>();
  for (const feed of feeds) {
    if (!(feed.atMs <= todayMs)) {
      throw new PlainError(
        'feed-in-future',
        'A past feed lies in the future, or has no date.',
        'Correct its date.',
      );
    }
    const day = dayOf(feed.atMs, zone);
    byDay.set(day, [...(byDay.get(day) ?? []), feed]);
  }
  const known = feeds.map(({ hoursSinceFeed }) => hoursSinceFeed).filter(isTold);
  const usual = medianOf(known.map(withinGap)) ?? USUAL_GAP_HOURS;
  return [...byDay].map(([day, all]) => ({
    ageDays: Math.max(1, ageInDays(birthDay, day)),
    daysAgo: ageInDays(day, today),
    feeds: all.map(({ intakeMl, hoursSinceFeed, emptied = false, pouredShare = 0 }) => ({
      ml: intakeMl,
      hours: withinGap(isTold(hoursSinceFeed) ? hoursSinceFeed : usual),
      emptied,
      pouredShare,
    })),
  }));
}

/** In a longer gap a feed was probably not entered (at the breast or at night), so the gap counts as unknown. */
const isTold = (hours: number | null): hours is number => hours !== null && hours <= LONGEST_GAP_HOURS;

const withinGap = (hours: number): number => Math.max(SHORTEST_GAP_HOURS, hours);

function medianOf(values: readonly number[]): number | null {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted.length === 0 ? null : sorted[Math.floor(sorted.length / 2)]!;
}

/** Hours since the feed before, from the instants of all feeds of whatever kind. */
export function hoursSinceFeedBefore(atMs: number, allFeedsMs: readonly number[]): number | null {
  const before = Math.max(...allFeedsMs.filter((other) => other < atMs));
  return Number.isFinite(before) ? (atMs - before) / HOUR_MS : null;
}
