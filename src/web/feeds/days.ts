/** Dates and times of feeds, in the family's time zone wherever the page is read. */
import { clockOf, dayOf } from '../../base/calendar.ts';
import type { Language } from '../../pacing/cues/words.ts';

const LOCALE: Record<Language, string> = { en: 'en-US', es: 'es-US' };

/** In which language, zone and year a date is read; a date of another year is shown with its year. */
export interface Reading {
  language: Language;
  /** IANA name. */
  zone: string;
  nowMs: number;
}

export function dayText(atMs: number, { language, zone, nowMs }: Reading): string {
  const isThisYear = dayOf(atMs, zone).slice(0, 4) === dayOf(nowMs, zone).slice(0, 4);
  return new Intl.DateTimeFormat(LOCALE[language], {
    weekday: 'long',
    month: 'long',
    day: 'numeric',
    ...(!isThisYear && { year: 'numeric' }),
    timeZone: zone,
  }).format(atMs);
}

/** Month, day and year. */
export const dateText = (atMs: number, { language, zone }: Pick<Reading, 'language' | 'zone'>): string =>
  new Intl.DateTimeFormat(LOCALE[language], {
    month: 'long',
    day: 'numeric',
    year: 'numeric',
    timeZone: zone,
  }).format(atMs);

export const timeText = (atMs: number, { language, zone }: Pick<Reading, 'language' | 'zone'>): string =>
  new Intl.DateTimeFormat(LOCALE[language], {
    hour: 'numeric',
    minute: '2-digit',
    timeZone: zone,
  }).format(atMs);

/** The time in the family's zone, such as "14:05". */
export const clockNow = (zone: string, nowMs: number): string => clockOf(nowMs, zone);

export interface Day<T> {
  day: string;
  feeds: T[];
}

/** Groups neighbors that began on the same day; keeps the order. */
export function byDay<T extends { atMs: number }>(feeds: readonly T[], reading: Reading): Day<T>[] {
  const days: (Day<T> & { key: string })[] = [];
  for (const feed of feeds) {
    const key = dayOf(feed.atMs, reading.zone);
    const latest = days.at(-1);
    if (latest?.key === key) latest.feeds.push(feed);
    else days.push({ key, day: dayText(feed.atMs, reading), feeds: [feed] });
  }
  return days;
}
