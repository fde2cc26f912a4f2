/** Prepares stored feeds for a plan: days to learn from, the usual bottle, the usual minutes. */

import { clockOf, DAY_MS, dayOf, HOUR_MS } from '../../base/calendar.ts';
import { mlFromFlOz } from '../../base/units.ts';
import { type AwayDay, withAwayDays } from './away-days.ts';
import { MOST_PER_FEED_ML, type PastDay } from './intake-model.ts';
import { newSize } from './new-size.ts';
import { hoursSinceFeedBefore, type PastFeed, pastDays } from './past-days.ts';

/** A feed of one baby, however it was given and entered. */
export interface KnownFeed {
  atMs: number;
  /** Null if not entered. */
  durationSec: number | null;
  /** Milk that left the bottle, mL; null at the breast, or if not entered. */
  leftBottleMl: number | null;
  /** Milk that was in the bottle at the start, mL; null if not entered. */
  offeredMl: number | null;
  /** Share of the milk, 0 to 1, that flowed faster than the band; absent if not measured by a sleeve. */
  pouredShare?: number;
}

export interface Learned {
  days: PastDay[];
  /** True when only bottles of the planned hours were used, because there were enough of them. */
  sameHours: boolean;
  /** Number of bottle feeds used; a top-up belongs to its feed. */
  bottleFeeds: number;
  /** Number of feeds left out because their data cannot be right: dated before birth or in the future, or more milk than a bottle holds. */
  leftOut: number;
  /** Usual amount in the bottle, mL, from the latest week; null if too few are known. */
  usualBottleMl: number | null;
  /** Range of the middle six of ten bottle feeds; null below five feeds. */
  usualMinutes: { low: number; high: number } | null;
}

/** Older feeds have hardly any weight, since it halves every 14 days. */
const LATEST_DAYS = 42;
/** A bottle begun sooner than this after the one before is a top-up of the same feed. Common practice, no source. */
const TOP_UP_HOURS = 0.5;
const FEWEST_FOR_MINUTES = 5;
const FEWEST_FOR_BOTTLE = 3;
/** A bottle with no more than this left counts as emptied (film of milk, error of reading). Assumption, no source. */
const EMPTIED_UP_TO_ML = 5;
/** If more than this went out than was in it, one of the two entries is wrong, and it is not known whether it was emptied. */
const OVER_ML = 10;
/** With at least this many bottles and days in the planned hours the rest of the day is not used. Own choice, no source. */
const ENOUGH_IN_HOURS = { bottles: 8, days: 4 };

/** A part of a day by the clock; an end before the start is on the next day. */
export interface Hours {
  from: string;
  until: string;
}

/**
 * @param birthDay "YYYY-MM-DD"
 * @param hours the hours that are planned: a baby may take more by night than by day
 * @param away days of which only the bottles came home
 */
export function learnedFrom(
  feeds: readonly KnownFeed[],
  {
    birthDay,
    nowMs,
    zone,
    hours,
    away = [],
  }: { birthDay: string; nowMs: number; zone: string; hours?: Hours; away?: readonly AwayDay[] },
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
  const bottles: PastFeed[] = whole.flatMap(({ atMs, leftBottleMl, emptied, pouredShare }) =>
    leftBottleMl === null
      ? []
      : [
          {
            atMs,
            intakeMl: leftBottleMl,
            hoursSinceFeed: hoursSinceFeedBefore(atMs, allMs),
            emptied,
            pouredShare,
          },
        ],
  );
  const withBottle = whole.filter(({ leftBottleMl }) => leftBottleMl !== null);
  const inHours = hours ? bottles.filter(({ atMs }) => isWithin(clockOf(atMs, zone), hours)) : [];
  const sameHours =
    inHours.length >= ENOUGH_IN_HOURS.bottles &&
    new Set(inHours.map(({ atMs }) => dayOf(atMs, zone))).size >= ENOUGH_IN_HOURS.days;
  const used = sameHours ? inHours : bottles;
  return {
    days: withAwayDays(
      pastDays(used, { birthDay, todayMs: nowMs, zone }),
      away.filter(({ fromMs }) => fromMs >= nowMs - LATEST_DAYS * DAY_MS),
      bottles.map(({ atMs }) => atMs),
      { birthDay, nowMs, zone },
    ),
    sameHours,
    bottleFeeds: used.length,
    leftOut: latest.length - possible.length,
    usualBottleMl: usualBottle(withBottle.filter(({ atMs }) => atMs > nowMs - 7 * DAY_MS)),
    usualMinutes: usualMinutes(withBottle),
  };
}

type WholeFeed = KnownFeed & { emptied: boolean; pouredShare: number };

const wholeOf = (feed: KnownFeed): WholeFeed => ({
  ...feed,
  pouredShare: Math.min(1, Math.max(0, feed.pouredShare ?? 0)),
  emptied:
    feed.leftBottleMl !== null &&
    feed.offeredMl !== null &&
    feed.offeredMl > EMPTIED_UP_TO_ML &&
    feed.leftBottleMl - feed.offeredMl <= OVER_ML &&
    feed.offeredMl - feed.leftBottleMl <= EMPTIED_UP_TO_ML,
});

/** @param feeds in order of time @returns feeds with their top-ups; a feed counts as emptied if its last bottle was */
function withTopUps(feeds: readonly KnownFeed[]): WholeFeed[] {
  const whole: WholeFeed[] = [];
  for (const feed of feeds.map(wholeOf)) {
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
        emptied: feed.emptied,
        pouredShare: shareOf(before, feed),
      };
  }
  return whole;
}

/** Poured share of two bottles together, weighted by their milk. */
function shareOf(one: WholeFeed, other: WholeFeed): number {
  const [a, b] = [one.leftBottleMl ?? 0, other.leftBottleMl ?? 0];
  return a + b > 0 ? (a * one.pouredShare + b * other.pouredShare) / (a + b) : 0;
}

const isWithin = (clock: string, { from, until }: Hours): boolean =>
  from < until ? clock >= from && clock < until : clock >= from || clock < until;

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

/** Median number of feeds of any kind between two clock times, over the latest days with feeds; null below three such days. */
export function usualFeedsWithin(
  feeds: readonly KnownFeed[],
  hours: Hours,
  { nowMs, zone }: { nowMs: number; zone: string },
): number | null {
  const today = dayOf(nowMs, zone);
  const counts = new Map<string, number>();
  for (const { atMs } of withTopUps([...feeds].sort((a, b) => a.atMs - b.atMs))) {
    if (!(atMs <= nowMs && atMs > nowMs - DAYS_LOOKED_AT * DAY_MS)) continue;
    const day = dayOf(atMs, zone);
    // Today is not over yet.
    if (day < today) counts.set(day, (counts.get(day) ?? 0) + Number(isWithin(clockOf(atMs, zone), hours)));
  }
  return counts.size < FEWEST_DAYS ? null : quantileOf([...counts.values()], 0.5);
}

/** The size to pack: `first` while there is no usual size; else the usual one, until 4 days in a row ask for another. */
export interface SizeAdvice {
  sizeMl: number;
  because: 'first' | 'unchanged' | 'more' | 'less';
  /** Number of days of change that it depends on; 0 without a change. */
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
