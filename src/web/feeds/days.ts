/** Dates and times of feeds, where the browser stands. */
import type { Language } from '../../pacing/cues/words.ts';

const LOCALE: Record<Language, string> = { en: 'en-US', es: 'es-US' };

const isOfYear = (atMs: number, nowMs: number): boolean =>
  new Date(atMs).getFullYear() === new Date(nowMs).getFullYear();

/** With the year where it is another than now. */
export const dayText = (atMs: number, language: Language, nowMs = Date.now()): string =>
  new Intl.DateTimeFormat(LOCALE[language], {
    weekday: 'long',
    month: 'long',
    day: 'numeric',
    ...(!isOfYear(atMs, nowMs) && { year: 'numeric' }),
  }).format(atMs);

export const timeText = (atMs: number, language: Language): string =>
  new Intl.DateTimeFormat(LOCALE[language], { hour: 'numeric', minute: '2-digit' }).format(atMs);

export interface Day<T> {
  day: string;
  feeds: T[];
}

/** Groups neighbours that began on the same day; keeps the order. Different years never share a day. */
export function byDay<T extends { atMs: number }>(
  feeds: readonly T[],
  language: Language,
  nowMs = Date.now(),
): Day<T>[] {
  const days: (Day<T> & { key: string })[] = [];
  for (const feed of feeds) {
    const key = new Date(feed.atMs).toDateString();
    const latest = days.at(-1);
    if (latest?.key === key) latest.feeds.push(feed);
    else days.push({ key, day: dayText(feed.atMs, language, nowMs), feeds: [feed] });
  }
  return days;
}
