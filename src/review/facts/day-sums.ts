/** Feeds of a day, measured and written in by hand, and their sums. Pure; days are in the family's time zone. */
import { type BabyRef, isOf } from '../../base/babies.ts';
import { clockOf, dayAfter, dayLengthHours, dayStartMs } from '../../base/calendar.ts';
import type { MilkKind } from '../../feed/record/feed.ts';
import type { FeedsBetween, HandFeed, ListedFeed } from '../../feed/record/written-by-hand.ts';

export type DayFeedKind = 'bottle' | 'breast' | 'refused';

/** One feed of a day; null if not known. */
export interface DayFeed {
  id: string;
  /** Written in by hand; else measured by a sleeve. */
  isByHand: boolean;
  kind: DayFeedKind;
  atMs: number;
  durationSec: number | null;
  /** Milk taken from the bottle, mL; null at the breast. */
  takenMl: number | null;
  /** Milk offered, including milk added later, mL; null if not entered. */
  offeredMl: number | null;
  milkKind: MilkKind | null;
  /** Left over in the bottle, mL. */
  leftMl: number | null;
  side: HandFeed['side'];
  /** Cues that were shown; null if not recorded, and without a sleeve. */
  cueCount: number | null;
  isOpen: boolean;
  isSimulated: boolean;
  caregiver: string | null;
  note: string | null;
}

export interface DaySum {
  /** YYYY-MM-DD in the family's zone. */
  day: string;
  fromMs: number;
  toMs: number;
  /** 23 or 25 when the clocks change. */
  hours: number;
  feeds: DayFeed[];
  bottles: number;
  breastFeeds: number;
  refused: number;
  /** Number of bottles without an amount. */
  unknownAmounts: number;
  /** Milk taken from bottles, refused ones included, mL. */
  takenMl: number;
  /** Left over in bottles, mL; null if no bottle has an amount. */
  leftMl: number | null;
  /** Total time of feeds with a known time, s. */
  durationSec: number;
  /** Sums from 7 am to 7 pm local time, and for the rest: milk from bottles, feeds of any kind. */
  byDay: { takenMl: number; feeds: number };
  byNight: { takenMl: number; feeds: number };
}

/** Less than this from a bottle counts as an attempt, mL. Common practice, no source. */
const TRIED_BELOW_ML = 10;
const MORNING = '07:00';
const EVENING = '19:00';

/** Feeds of one baby, oldest first. */
export function feedsOfBaby({ feeds, handFeeds }: FeedsBetween, baby: BabyRef): DayFeed[] {
  const measured = feeds
    .filter((feed) => feed.state !== 'discarded' && isOf(setupOf(feed), baby))
    .map(measuredFeed);
  const written = handFeeds.filter((feed) => !feed.withdrawn && isOf(feed, baby)).map(writtenFeed);
  return [...measured, ...written].sort((a, b) => a.atMs - b.atMs);
}

const setupOf = ({ corrected, setup }: Pick<ListedFeed, 'setup'> & { corrected?: ListedFeed['corrected'] }) =>
  corrected?.setup ?? setup;

function measuredFeed(feed: ListedFeed): DayFeed {
  const isTry = feed.state === 'ended' && feed.intakeMl < TRIED_BELOW_ML;
  return {
    id: feed.id,
    isByHand: false,
    kind: isTry ? 'refused' : 'bottle',
    atMs: feed.atMs,
    durationSec: feed.durationSec,
    takenMl: feed.intakeMl,
    offeredMl: offeredMl(feed),
    milkKind: setupOf(feed).milkKind,
    leftMl: stayedMl(feed),
    side: null,
    cueCount: feed.toldCount,
    isOpen: feed.state === 'open',
    isSimulated: feed.simulated,
    caregiver: setupOf(feed).caregiver,
    note: feed.corrected?.note ?? null,
  };
}

/** Left-over milk: by the bottle's marks if they were read, else milk offered minus milk taken. */
export function stayedMl(
  feed: Pick<ListedFeed, 'state' | 'setup' | 'addedMl' | 'intakeMl' | 'spiltMl'> & {
    corrected?: ListedFeed['corrected'];
  },
): number | null {
  if (feed.state === 'open') return null;
  if (feed.corrected?.reading) return feed.corrected.reading.leftMl;
  const wholeMl = offeredMl(feed);
  return wholeMl === null ? null : Math.max(0, wholeMl - feed.intakeMl - feed.spiltMl);
}

/** Milk offered: by the bottle's marks before the feed if they were read, else the entered portion. */
function offeredMl(feed: Parameters<typeof stayedMl>[0]): number | null {
  const { portionMl } = setupOf(feed);
  const wholeMl = feed.corrected?.reading?.offeredMl ?? portionMl;
  return wholeMl === null ? null : wholeMl + feed.addedMl;
}

function writtenFeed(feed: HandFeed): DayFeed {
  const { offeredMl, leftMl, kind } = feed;
  const takenMl = offeredMl !== null && leftMl !== null ? Math.max(0, offeredMl - leftMl) : null;
  return {
    id: feed.id,
    isByHand: true,
    kind,
    atMs: feed.atMs,
    durationSec: feed.durationSec,
    takenMl: kind === 'breast' ? null : kind === 'refused' ? (takenMl ?? 0) : takenMl,
    offeredMl: kind === 'breast' ? null : offeredMl,
    milkKind: feed.milkKind,
    leftMl: kind === 'breast' ? null : leftMl,
    side: feed.side,
    cueCount: null,
    isOpen: false,
    isSimulated: false,
    caregiver: feed.caregiver,
    note: feed.note,
  };
}

/** @returns first instant of a day, and of the next. @throws PlainError for an impossible date or zone */
export const boundsOf = (day: string, zone: string): { fromMs: number; toMs: number } => ({
  fromMs: dayStartMs(day, zone),
  toMs: dayStartMs(dayAfter(day), zone),
});

/** Sums of the feeds that began on a day. @param feeds of one baby, oldest first; those of other days are left out */
export function daySum(feeds: readonly DayFeed[], day: string, zone: string): DaySum {
  const { fromMs, toMs } = boundsOf(day, zone);
  const here = feeds.filter(({ atMs }) => atMs >= fromMs && atMs < toMs);
  const left = here.flatMap(({ leftMl }) => (leftMl === null ? [] : [leftMl]));
  const isByDay = ({ atMs }: DayFeed): boolean => {
    const clock = clockOf(atMs, zone);
    return clock >= MORNING && clock < EVENING;
  };
  const half = (some: DayFeed[]) => ({ takenMl: sumOf(some, 'takenMl'), feeds: some.length });
  const count = (kind: DayFeedKind): number => here.filter((feed) => feed.kind === kind).length;
  return {
    day,
    fromMs,
    toMs,
    hours: dayLengthHours(day, zone),
    feeds: here,
    bottles: count('bottle'),
    breastFeeds: count('breast'),
    refused: count('refused'),
    unknownAmounts: here.filter(({ kind, takenMl }) => kind === 'bottle' && takenMl === null).length,
    takenMl: sumOf(here, 'takenMl'),
    leftMl: left.length === 0 ? null : left.reduce((sum, ml) => sum + ml, 0),
    durationSec: sumOf(here, 'durationSec'),
    byDay: half(here.filter(isByDay)),
    byNight: half(here.filter((feed) => !isByDay(feed))),
  };
}

const sumOf = (feeds: readonly DayFeed[], what: 'takenMl' | 'durationSec'): number =>
  feeds.reduce((sum, feed) => sum + (feed[what] ?? 0), 0);

/** The days up to and including `lastDay`, oldest first. */
export const weekSums = (feeds: readonly DayFeed[], lastDay: string, zone: string, days = 7): DaySum[] =>
  Array.from({ length: days }, (_, i) => daySum(feeds, dayAfter(lastDay, i + 1 - days), zone));

/** How many bottles in a row were refused at the end of a list of feeds; feeds at the breast in between are ignored. */
export function refusedInARow(feeds: readonly DayFeed[]): number {
  const bottles = feeds.filter(({ kind }) => kind !== 'breast');
  const lastTaken = bottles.findLastIndex(({ kind }) => kind === 'bottle');
  return bottles.length - 1 - lastTaken;
}

/** Days that make a pattern. Our choice. */
const PATTERN_DAYS = 3;
/** Half of what babies take in twelve hours: 730 mL in 24 h at 3 to 6 months (Rios-Leyvraz and Yao 2023, Breastfeed Med 18(3)). */
const LITTLE_BY_DAY_ML = 730 / 4;

/** True if on at least three of the days there was little milk by day and much at night. Feeds at the breast count as feeds. */
export function isTurnedToNight(days: readonly DaySum[]): boolean {
  const turned = days.filter(
    ({ byDay, byNight }) =>
      byDay.feeds > 0 && byNight.feeds > byDay.feeds && byDay.takenMl <= LITTLE_BY_DAY_ML,
  );
  return turned.length >= PATTERN_DAYS;
}
