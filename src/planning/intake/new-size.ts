/** The size of bottle to pack: half ounces from 2 to 4, changed only after several days that ask for it. */
import { mlFromFlOz } from '../../base/units.ts';
import { isRefused, type PastDay } from './intake-model.ts';
import { countOf, type SeenFeed } from './seen-feed.ts';

export const LEAST_FL_OZ = 2;
export const MOST_FL_OZ = 4;
export const STEP_FL_OZ = 0.5;

/** Days of change before a new size is suggested: 3 or 4. Common practice, no source. */
const DAYS_OF_CHANGE = 4;

/**
 * A new bottle size, half an ounce up or down, only when each of the latest days asks for it; else null.
 * @param days past days in any order; those with fewer than 2 bottles are not used
 * @param daysOfChange 3 or 4
 */
export function newSize(
  days: readonly PastDay[],
  currentMl: number,
  daysOfChange: 3 | 4 = DAYS_OF_CHANGE,
): { sizeMl: number; days: number } | null {
  const latest = days
    .filter(({ feeds }) => feeds.length >= 2)
    .sort((a, b) => a.daysAgo - b.daysAgo)
    .slice(0, daysOfChange);
  if (latest.length < daysOfChange) return null;
  const stepMl = mlFromFlOz(STEP_FL_OZ);
  const direction = latest.every((day) => asksForMore(day, currentMl, stepMl))
    ? 1
    : latest.every((day) => asksForLess(day, currentMl, stepMl))
      ? -1
      : 0;
  const sizeMl = currentMl + direction * stepMl;
  const allowed = sizeMl >= mlFromFlOz(LEAST_FL_OZ) - 1e-6 && sizeMl <= mlFromFlOz(MOST_FL_OZ) + 1e-6;
  return direction === 0 || !allowed ? null : { sizeMl, days: daysOfChange };
}

/** Leaves out feeds that say nothing about the size: refused bottles, sums of several feeds, poured feeds. */
const telling = ({ feeds }: PastDay): SeenFeed[] =>
  feeds.filter((feed) => !isRefused(feed) && feed.pouredShare < 0.5 && countOf(feed) === 1);
const meanOf = (feeds: readonly SeenFeed[]): number =>
  feeds.reduce((sum, { ml }) => sum + ml, 0) / feeds.length;

/** More was taken than the bottle usually holds; or most bottles came back empty, so that more may have been wanted. */
function asksForMore(day: PastDay, currentMl: number, stepMl: number): boolean {
  const feeds = telling(day);
  if (feeds.length === 0) return false;
  const emptied = feeds.filter(({ emptied: was, ml }) => was && ml > currentMl - stepMl / 2);
  return meanOf(feeds) > currentMl + stepMl / 2 || emptied.length > feeds.length / 2;
}

function asksForLess(day: PastDay, currentMl: number, stepMl: number): boolean {
  const feeds = telling(day);
  const isBelow = feeds.length > 0 && meanOf(feeds) < currentMl - stepMl / 2;
  return isBelow && !feeds.some(({ emptied }) => emptied);
}
