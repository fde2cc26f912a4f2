/**
 * A day away of which only the bottles are known: what was taken from all of them together. It is not known which feed took what, so
 * its feeds enter the model as one sum (seen-feed.ts).
 */
import { ageInDays, dayOf, HOUR_MS } from '../../base/calendar.ts';
import { MOST_PER_FEED_ML, type PastDay } from './intake-model.ts';
import type { SeenFeed } from './seen-feed.ts';

export interface AwayDay {
  fromMs: number;
  untilMs: number;
  /** Feeds that it was planned for; null in plans of older versions. */
  feeds: number | null;
  /** Milk that left the bottles, mL. */
  ml: number;
  /** Every bottle that was opened came back empty: at least this much was wanted. */
  emptied: boolean;
}

/** Every 3 to 4 hours (CDC, infants after the first weeks); the shorter is used. */
const USUAL_GAP_HOURS = 3;

/**
 * @param days days whose feeds are known one by one
 * @param bottlesMs instants of all bottles known one by one: a day with any of these is not counted twice
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
