/**
 * A day away of which only the bottles came home: what was taken of all of them together. Nobody wrote down which feed took what, so that
 * its feeds are learned from as one sum (seen-feed.ts).
 */
import { ageInDays, dayOf, HOUR_MS } from '../../base/calendar.ts';
import { MOST_PER_FEED_ML, type PastDay } from './intake-model.ts';
import type { SeenFeed } from './seen-feed.ts';

export interface AwayDay {
  fromMs: number;
  untilMs: number;
  /** Feeds that it was planned for; null where a plan of an earlier program did not say. */
  feeds: number | null;
  /** Milk that left the bottles, mL. */
  ml: number;
  /** Every bottle that was opened came back empty: at least this was wanted. */
  emptied: boolean;
}

/** Every 3 to 4 hours (CDC, infants after the first weeks); the shorter. */
const USUAL_GAP_HOURS = 3;

/**
 * @param days those learned from feed by feed
 * @param bottlesMs instants of all bottles that are known feed by feed: a day that has any is not counted twice
 * @returns the days with these added
 */
export function withAwayDays(
  days: readonly PastDay[],
  away: readonly AwayDay[],
  bottlesMs: readonly number[],
  { birthDay, nowMs, zone }: { birthDay: string; nowMs: number; zone: string },
): PastDay[] {
  const added = away.flatMap((one): PastDay[] => {
    const { fromMs, untilMs, ml, emptied } = one;
    const day = dayOf(fromMs, zone);
    const hours = (untilMs - fromMs) / HOUR_MS;
    const feeds = one.feeds ?? Math.max(1, Math.round(hours / USUAL_GAP_HOURS));
    const isKnown = bottlesMs.some((atMs) => atMs >= fromMs && atMs < untilMs);
    const cannotBe = day < birthDay || fromMs > nowMs || ml > feeds * MOST_PER_FEED_ML;
    if (isKnown || cannotBe) return [];
    const sum: SeenFeed = { ml, hours, emptied, pouredShare: 0, feeds };
    return [
      {
        ageDays: Math.max(1, ageInDays(birthDay, day)),
        daysAgo: ageInDays(day, dayOf(nowMs, zone)),
        feeds: [sum],
      },
    ];
  });
  const byDay = new Map<number, PastDay>();
  for (const day of [...days, ...added]) {
    const known = byDay.get(day.daysAgo);
    byDay.set(day.daysAgo, known ? { ...known, feeds: [...known.feeds, ...day.feeds] } : day);
  }
  return [...byDay.values()];
}
