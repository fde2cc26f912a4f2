/** How much to send: a range for the hours away, and bottles of a size, more and smaller. */

import { ageInDays, dayOf, HOUR_MS } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import { flOzFromMl, mlFromFlOz } from '../../base/units.ts';
import { CURVE_SOURCE, DAY_TO_DAY_SOURCE, dailyIntake, SPREAD_SOURCE } from './daily-intake.ts';
import { mixed, quantileMl, summed } from './distribution.ts';
import { type BabyModel, dayKinds, type PastDay } from './intake-model.ts';

/** Eight of ten days, or feeds, lie between low and high. */
export interface MlRange {
  lowMl: number;
  middleMl: number;
  highMl: number;
}

export interface Portion {
  perHour: MlRange;
  perFeed: MlRange;
  total: MlRange;
  /** 2 to 4 fl oz, and how many cover the high end of the total. */
  bottle: { sizeMl: number; count: number };
  /** True where the baby's rate lies outside of what 95 of 100 babies take: said, not judged. */
  outsidePublished: boolean;
  sources: readonly string[];
}

export const BOTTLE_SIZE_SOURCE =
  '2 to 4 fl oz, more and smaller: common practice, no source; beside it, most breastfed babies take 2 to 4 fl oz when they start other feeding, stored as 2 fl oz with top-ups of 1 to 2 (ABM Clinical Protocol 8, 2004)';

const LEAST_FL_OZ = 2;
const MOST_FL_OZ = 4;
const STEP_FL_OZ = 0.5;
const LOW = 0.1;
const HIGH = 0.9;

/**
 * @param feeds feeds that will be missed, 1 to 16
 * @param hours hours away, above 0 and at most 24
 * @throws PlainError when either is impossible
 */
export function portionFor(model: BabyModel, { feeds, hours }: { feeds: number; hours: number }): Portion {
  checkAway(feeds, hours);
  const kinds = dayKinds(model, { feeds, hours });
  const one = mixed(kinds.map(({ chance, feeds: [first] }) => ({ chance, of: first! })));
  const total = mixed(kinds.map(({ chance, feeds: all }) => ({ chance, of: summed(all) })));
  const rate = model.curveMlPerHour * Math.exp(model.meanLog);
  const spread = Math.exp(1.2816 * model.sdLog);
  const perFeed = rangeOf((share) => quantileMl(one, share));
  const totalMl = rangeOf((share) => quantileMl(total, share));
  const sizeMl = sizeFor(perFeed.middleMl);
  const { lowMl, highMl } = dailyIntake(model.ageDays);
  return {
    perHour: { lowMl: rate / spread, middleMl: rate, highMl: rate * spread },
    perFeed,
    total: totalMl,
    bottle: { sizeMl, count: Math.max(feeds, Math.ceil(totalMl.highMl / sizeMl)) },
    outsidePublished: rate * 24 < lowMl || rate * 24 > highMl,
    sources: [CURVE_SOURCE, SPREAD_SOURCE, DAY_TO_DAY_SOURCE, BOTTLE_SIZE_SOURCE],
  };
}

const rangeOf = (at: (share: number) => number): MlRange => ({
  lowMl: at(LOW),
  middleMl: at(0.5),
  highMl: at(HIGH),
});

/** Half ounces, not above what is usual for the baby, so that little is left in the bottle. */
function sizeFor(middleMl: number): number {
  const flOz = Math.floor(flOzFromMl(middleMl) / STEP_FL_OZ + 1e-9) * STEP_FL_OZ;
  return mlFromFlOz(Math.min(MOST_FL_OZ, Math.max(LEAST_FL_OZ, flOz)));
}

export function checkAway(feeds: number, hours: number): void {
  if (!Number.isInteger(feeds) || feeds < 1 || feeds > 16) {
    throw new PlainError(
      'feeds-impossible',
      `${feeds} feeds cannot be planned.`,
      'Give a whole number of feeds, 1 to 16.',
    );
  }
  if (!(hours > 0 && hours <= 24)) {
    throw new PlainError(
      'hours-impossible',
      `${hours} hours away cannot be planned.`,
      'Give the hours away: above 0, at most 24.',
    );
  }
}

/** A past bottle feed as kept; the time since the feed before it counts every feed, the breast too. */
export interface PastFeed {
  atMs: number;
  intakeMl: number;
  hoursSinceFeed: number | null;
}

/** Where nobody wrote down the feed before: every 3 to 4 hours (CDC, infants after the first weeks); the shorter. */
const USUAL_GAP_HOURS = 3;
const SHORTEST_GAP_HOURS = 1;
const LONGEST_GAP_HOURS = 6;

/**
 * Past feeds by day, ready to learn from.
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
    hours: all.reduce(
      (sum, { hoursSinceFeed }) => sum + withinGap(isTold(hoursSinceFeed) ? hoursSinceFeed : usual),
      0,
    ),
    feedsMl: all.map(({ intakeMl }) => intakeMl),
  }));
}

/** Over a longer gap a feed was most likely not written down, at the breast or at night: the gap is not known. */
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

/** Days of change before a new size is suggested: 3 or 4. Common practice, no source. */
export const DAYS_OF_CHANGE = 4;

/**
 * A new bottle size, half an ounce up or down, only when each of the latest days asks for it; else null.
 * @param days past days in any order; those with fewer than 2 bottles say nothing
 * @param daysOfChange 3 or 4
 */
export function newSize(
  days: readonly PastDay[],
  currentMl: number,
  daysOfChange: 3 | 4 = DAYS_OF_CHANGE,
): { sizeMl: number; days: number } | null {
  const latest = days
    .filter(({ feedsMl }) => feedsMl.length >= 2)
    .sort((a, b) => a.daysAgo - b.daysAgo)
    .slice(0, daysOfChange);
  if (latest.length < daysOfChange) return null;
  const wanted = latest.map(({ feedsMl }) => feedsMl.reduce((sum, ml) => sum + ml, 0) / feedsMl.length);
  const stepMl = mlFromFlOz(STEP_FL_OZ);
  const direction = wanted.every((ml) => ml > currentMl + stepMl / 2)
    ? 1
    : wanted.every((ml) => ml < currentMl - stepMl / 2)
      ? -1
      : 0;
  const sizeMl = currentMl + direction * stepMl;
  const allowed = sizeMl >= mlFromFlOz(LEAST_FL_OZ) - 1e-6 && sizeMl <= mlFromFlOz(MOST_FL_OZ) + 1e-6;
  return direction === 0 || !allowed ? null : { sizeMl, days: daysOfChange };
}
