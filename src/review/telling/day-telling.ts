/** A day and a week in texts of one language, for the page and for a file to hand on. */

import { ageInDays, dayAfter } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import type { VolumeUnit } from '../../base/units.ts';
import type { Language } from '../../pacing/cues/words.ts';
import { type DailyIntake, dailyIntake } from '../../planning/intake/daily-intake.ts';
import { type DayFeed, type DaySum, refusedInARow } from '../facts/day-sums.ts';
import { DAY_WORDS, type DayWords } from './day-words.ts';
import { amountText } from './feed-words.ts';

export interface DayOptions {
  language: Language;
  volumeUnit: VolumeUnit;
  /** The family's, by its IANA name. */
  zone: string;
  /** YYYY-MM-DD; dates of another year carry theirs. Absent: every date does. */
  today?: string | undefined;
  /** YYYY-MM-DD; null if not entered. */
  birthDay: string | null;
  /** Whether caregivers are named. */
  hasNames?: boolean;
}

export interface ToldDay {
  day: string;
  title: string;
  sentence: string;
  /** Feeds at the breast, what was left over, refusals, changed clocks. */
  lines: string[];
  /** Published daily intake, and what it cannot say; empty without a birth date. */
  published: string[];
  feeds: {
    id: string;
    isByHand: boolean;
    time: string;
    amount: string;
    marks: string;
    note: string | null;
  }[];
}

export function tellDay(sum: DaySum, options: DayOptions): ToldDay {
  const words = DAY_WORDS[options.language];
  const amount = (ml: number) => amountText(ml, options.volumeUnit);
  const offered = sum.bottles + sum.refused;
  const lines = [
    sum.breastFeeds > 0 && words.breast(sum.breastFeeds),
    sum.unknownAmounts > 0 && words.unknownAmounts(sum.unknownAmounts),
    sum.leftMl !== null && words.left(amount(sum.leftMl)),
    sum.refused > 0 && words.refused(sum.refused),
    refusedInARow(sum.feeds) >= REFUSALS_TO_REST && words.restNow,
    sum.hours !== 24 && words.clocks(sum.hours),
  ];
  return {
    day: sum.day,
    title: dateText(sum, options, { weekday: 'long', month: 'long', day: 'numeric' }),
    sentence:
      offered === 0
        ? words.noBottles
        : words.taken(amount(sum.takenMl), offered, words.time(sum.durationSec)),
    lines: lines.filter((line) => line !== false),
    published: publishedLines(sum, options),
    feeds: sum.feeds.map((feed) => feedLine(feed, sum, options)),
  };
}

/** Three in a row end a study's feed (Ventura et al., Childhood Obesity, abstract); as a rule of thumb, common practice. */
const REFUSALS_TO_REST = 3;

export function publishedLines(sum: DaySum, { birthDay, language, volumeUnit }: DayOptions): string[] {
  const intake = birthDay === null ? null : intakeAt(birthDay, sum.day);
  if (!intake) return [];
  const words = DAY_WORDS[language];
  const amount = (ml: number) => amountText(ml, volumeUnit);
  return [
    words.published(amount(intake.lowMl), amount(intake.middleMl), amount(intake.highMl)),
    ...(sum.breastFeeds > 0 ? [words.publishedWithBreast] : []),
    words.publishedNote,
    `${words.publishedSource}.`,
  ];
}

/** Null before the first day of life, and beyond the curve's end. */
export function intakeAt(birthDay: string, day: string): DailyIntake | null {
  try {
    return dailyIntake(ageInDays(birthDay, day));
  } catch (error) {
    if (error instanceof PlainError) return null;
    throw error;
  }
}

function feedLine(feed: DayFeed, sum: DaySum, options: DayOptions): ToldDay['feeds'][number] {
  const words = DAY_WORDS[options.language];
  const marks = [
    feed.kind === 'refused' && words.kinds.refused,
    feed.side && words.sides[feed.side],
    feed.durationSec !== null && words.minutes(feed.durationSec),
    feed.cueCount !== null && words.cues(feed.cueCount),
    feed.isByHand && words.byHand,
    feed.isOpen && words.open,
    feed.isSimulated && words.simulated,
    options.hasNames && feed.caregiver,
  ];
  return {
    id: feed.id,
    isByHand: feed.isByHand,
    time: timeText(feed.atMs, sum, options),
    amount: takenText(feed, words, options.volumeUnit),
    marks: marks.filter(Boolean).join(' · '),
    note: feed.note,
  };
}

function takenText({ kind, takenMl }: DayFeed, words: DayWords, volumeUnit: VolumeUnit): string {
  if (kind === 'breast') return words.kinds.breast;
  if (takenMl === null) return words.amountUnknown;
  return kind === 'refused' ? words.tried(amountText(takenMl, volumeUnit)) : amountText(takenMl, volumeUnit);
}

/** Local clock time; on a day when the clocks change with the zone's abbreviation, since a time may occur twice. */
function timeText(atMs: number, { hours }: DaySum, { language, zone }: DayOptions): string {
  const style = { hour: 'numeric', minute: '2-digit', timeZone: zone } as const;
  const locale = DAY_WORDS[language].locale;
  return plainSpaces(
    new Intl.DateTimeFormat(locale, hours === 24 ? style : { ...style, timeZoneName: 'short' }).format(atMs),
  );
}

const plainSpaces = (text: string): string => text.replaceAll(/[\u202f\u00a0]/g, ' ');

/** The date in words, computed from noon, which exists in every zone. */
export function dateText(
  { day }: { day: string },
  { language, today }: DayOptions,
  style: Intl.DateTimeFormatOptions,
): string {
  const noonMs = Date.parse(`${day}T12:00:00Z`);
  const year = day.slice(0, 4) === today?.slice(0, 4) ? {} : ({ year: 'numeric' } as const);
  return new Intl.DateTimeFormat(DAY_WORDS[language].locale, { ...style, ...year, timeZone: 'UTC' }).format(
    noonMs,
  );
}

/** "Mon 11": for narrow places. */
export const weekdayText = (day: string, language: Language): string =>
  new Intl.DateTimeFormat(DAY_WORDS[language].locale, { weekday: 'short', timeZone: 'UTC' })
    .format(Date.parse(`${day}T12:00:00Z`))
    .concat(` ${Number(day.slice(8))}`);

/** Days before and after, for links; none after today. */
export const neighborDays = (
  day: string,
  today: string,
  step: number,
): { before: string; after: string | null } => {
  const after = dayAfter(day, step);
  return { before: dayAfter(day, -step), after: after > today ? null : after };
};
