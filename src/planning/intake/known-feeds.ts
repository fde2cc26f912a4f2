/** From feeds as they were kept to what a plan rests on: days to learn from, the usual bottle, the usual minutes. */

import { clockOf, DAY_MS, dayOf, HOUR_MS } from '../../base/calendar.ts';
import { mlFromFlOz } from '../../base/units.ts';
import { MOST_PER_FEED_ML, type PastDay } from './intake-model.ts';
import { hoursSinceFeedBefore, newSize, type PastFeed, pastDays } from './portion.ts';

/** A feed of one baby, however it was given and written down. */
export interface KnownFeed {
  atMs: number;
  /** Null where nobody said. */
  durationSec: number | null;
  /** Milk that left the bottle, mL; null at the breast, or where nobody said. */
  leftBottleMl: number | null;
  /** Milk that was in the bottle at the start, mL; null where nobody said. */
  offeredMl: number | null;
}

export interface Learned {
  days: PastDay[];
  /** Feeds with a bottle that were learned from; a top-up belongs to its feed. */
  bottleFeeds: number;
  /** Feeds left out because they cannot be right: dated before birth or ahead of time, or more milk than a bottle holds. */
  leftOut: number;
  /** What usually is in the bottle, mL, from the latest week; null where too few say. */
  usualBottleMl: number | null;
  /** Middle six of ten feeds with a bottle; null before five are known. */
  usualMinutes: { low: number; high: number } | null;
}

/** Older feeds say next to nothing: a day counts half every 14 days. */
const LATEST_DAYS = 42;
/** A bottle begun sooner than this after the one before is a top-up of the same feed. Common practice, no source. */
const TOP_UP_HOURS = 0.5;
const FEWEST_FOR_MINUTES = 5;
const FEWEST_FOR_BOTTLE = 3;

/** @param birthDay "YYYY-MM-DD" */
export function learnedFrom(
  feeds: readonly KnownFeed[],
  { birthDay, nowMs, zone }: { birthDay: string; nowMs: number; zone: string },
): Learned {
  const latest = feeds.filter(({ atMs }) => !(atMs < nowMs - LATEST_DAYS * DAY_MS));
  const possible = latest.filter(
    ({ atMs, leftBottleMl }) =>
      atMs <= nowMs &&
      dayOf(atMs, zone) >= birthDay &&
      (leftBottleMl === null || (leftBottleMl >= 0 && leftBottleMl <= MOST_PER_FEED_ML)),
  );
  const whole = withTopUps([...possible].sort((a, b) => a.atMs - b.atMs));
  const allMs = whole.map(({ atMs }) => atMs);
  const bottles: PastFeed[] = whole.flatMap(({ atMs, leftBottleMl }) =>
    leftBottleMl === null
      ? []
      : [{ atMs, intakeMl: leftBottleMl, hoursSinceFeed: hoursSinceFeedBefore(atMs, allMs) }],
  );
  const withBottle = whole.filter(({ leftBottleMl }) => leftBottleMl !== null);
  return {
    days: pastDays(bottles, { birthDay, todayMs: nowMs, zone }),
    bottleFeeds: bottles.length,
    leftOut: latest.length - possible.length,
    usualBottleMl: usualBottle(withBottle.filter(({ atMs }) => atMs > nowMs - 7 * DAY_MS)),
    usualMinutes: usualMinutes(withBottle),
  };
}

/** @param feeds in order of time */
function withTopUps(feeds: readonly KnownFeed[]): KnownFeed[] {
  const whole: KnownFeed[] = [];
  for (const feed of feeds) {
    const before = whole.at(-1);
    const endMs = before ? before.atMs + (before.durationSec ?? 0) * 1000 : 0;
    const isTopUp =
      before &&
      before.leftBottleMl !== null &&
      feed.leftBottleMl !== null &&
      feed.atMs - endMs < TOP_UP_HOURS * HOUR_MS;
    if (!isTopUp) whole.push(feed);
    else
      whole[whole.length - 1] = {
        ...before,
        durationSec: (feed.atMs - before.atMs) / 1000 + (feed.durationSec ?? 0),
        leftBottleMl: before.leftBottleMl! + feed.leftBottleMl!,
      };
  }
  return whole;
}

function usualBottle(feeds: readonly KnownFeed[]): number | null {
  const offered = feeds.map(({ offeredMl }) => offeredMl).filter((ml) => ml !== null && ml > 0) as number[];
  return offered.length < FEWEST_FOR_BOTTLE ? null : quantileOf(offered, 0.5);
}

function usualMinutes(feeds: readonly KnownFeed[]): Learned['usualMinutes'] {
  const minutes = feeds
    .map(({ durationSec }) => (durationSec ?? 0) / 60)
    .filter((one) => one >= 1 && one <= 90);
  if (minutes.length < FEWEST_FOR_MINUTES) return null;
  return { low: quantileOf(minutes, 0.2), high: Math.min(60, quantileOf(minutes, 0.8)) };
}

function quantileOf(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.round(share * (sorted.length - 1))]!;
}

const FEWEST_DAYS = 3;
const DAYS_LOOKED_AT = 14;

/** Feeds of any kind that fall between two clock times, median of the latest days with feeds; null before three such days. */
export function usualFeedsWithin(
  feeds: readonly KnownFeed[],
  { from, until }: { from: string; until: string },
  { nowMs, zone }: { nowMs: number; zone: string },
): number | null {
  const inside = (clock: string): boolean =>
    from < until ? clock >= from && clock < until : clock >= from || clock < until;
  const today = dayOf(nowMs, zone);
  const counts = new Map<string, number>();
  for (const { atMs } of withTopUps([...feeds].sort((a, b) => a.atMs - b.atMs))) {
    if (!(atMs <= nowMs && atMs > nowMs - DAYS_LOOKED_AT * DAY_MS)) continue;
    const day = dayOf(atMs, zone);
    // Today is not over yet.
    if (day < today) counts.set(day, (counts.get(day) ?? 0) + Number(inside(clockOf(atMs, zone))));
  }
  return counts.size < FEWEST_DAYS ? null : quantileOf([...counts.values()], 0.5);
}

/** The size to pack: `first` while none is usual, else the usual one until 4 days in a row ask for another. */
export interface SizeAdvice {
  sizeMl: number;
  because: 'first' | 'unchanged' | 'more' | 'less';
  /** Days of change that it rests on; 0 where nothing changes. */
  days: number;
}

export function sizeAdvice(
  days: readonly PastDay[],
  usualBottleMl: number | null,
  firstMl: number,
): SizeAdvice {
  if (usualBottleMl === null) return { sizeMl: firstMl, because: 'first', days: 0 };
  const usualMl = toHalfFlOz(usualBottleMl);
  const change = newSize(days, usualMl);
  if (!change) return { sizeMl: usualMl, because: 'unchanged', days: 0 };
  return {
    sizeMl: change.sizeMl,
    because: change.sizeMl > usualMl ? 'more' : 'less',
    days: change.days,
  };
}

/** Half ounces from 2 to 4. */
const toHalfFlOz = (ml: number): number =>
  Math.min(mlFromFlOz(4), Math.max(mlFromFlOz(2), mlFromFlOz(0.5) * Math.round(ml / mlFromFlOz(0.5))));
