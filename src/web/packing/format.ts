/** Amounts, chances and times of the packing pages, for people. Pure. */

import { clockOf, dayOf, instantAt } from '../../base/calendar.ts';
import { spanOf } from '../../base/spans.ts';
import { quarterFlOzText, type VolumeUnit } from '../../base/units.ts';
import type { Language } from '../../pacing/cues/words.ts';
import type { MilkClock } from '../../planning/milk/milk-times.ts';
import type { Reading } from '../feeds/days.ts';
import type { PackingWords } from './words.ts';

const LOCALES: Record<Language, string> = { en: 'en-US', es: 'es-US' };

/** "2½–3½ fl oz (75–105 mL)", the chosen unit first; quarters of an ounce and steps of 5 mL. */
export function rangeText(lowMl: number, highMl: number, unit: VolumeUnit): string {
  const join = (low: string, high: string): string => (low === high ? low : `${low}–${high}`);
  const five = (ml: number): string => String(5 * Math.round(ml / 5));
  const flOz = `${join(quarterFlOzText(lowMl), quarterFlOzText(highMl))} fl oz`;
  const ml = `${join(five(lowMl), five(highMl))} mL`;
  return unit === 'ml' ? `${ml} (${flOz})` : `${flOz} (${ml})`;
}

export function chanceText(chance: number, words: PackingWords): string {
  const days = Math.round(100 * chance);
  return days < 1 ? words.underOneDay : words.days(days);
}

/** Counts equal sizes, in order of appearance. */
export function counted(sizesMl: readonly number[]): { ml: number; count: number }[] {
  const counts = new Map<number, number>();
  for (const ml of sizesMl) counts.set(ml, (counts.get(ml) ?? 0) + 1);
  return [...counts].map(([ml, count]) => ({ ml, count }));
}

/** Other plans are drawn up to this chance: nobody plans to run short more often. */
const MOST_CHANCE = 0.3;
const LEAST_CHANCE = 0.1;

/** @returns the chance at which the drawing ends, so that plans with a name are never drawn outside of it */
export const chanceAxisEnd = (named: readonly number[], others: readonly number[]): number =>
  Math.max(LEAST_CHANCE, ...named, Math.min(MOST_CHANCE, Math.max(0, ...others)));

/** "Tue, May 12, 7:30 AM" in the family's zone, wherever the page is read; with the year if it is not the current one. */
export const whenText = (atMs: number, { language, zone, nowMs }: Reading): string =>
  new Intl.DateTimeFormat(LOCALES[language], {
    weekday: 'short',
    month: 'short',
    day: 'numeric',
    hour: 'numeric',
    minute: '2-digit',
    ...(dayOf(atMs, zone).slice(0, 4) !== dayOf(nowMs, zone).slice(0, 4) && { year: 'numeric' }),
    timeZone: zone,
  }).format(atMs);

/** "Tue, May 12" in the family's zone. */
export const shortDayText = (atMs: number, { language, zone }: Omit<Reading, 'nowMs'>): string =>
  new Intl.DateTimeFormat(LOCALES[language], {
    weekday: 'short',
    month: 'short',
    day: 'numeric',
    timeZone: zone,
  }).format(atMs);

/** "6 months", "4 days", "2 hours". */
export function spanText({ hours }: MilkClock, words: PackingWords): string {
  const { count, unit } = spanOf(hours);
  return words.milk[unit](count);
}

/** One time limit as a sentence; one that has passed is told as passed. */
export function milkClockText(clock: MilkClock, words: PackingWords, reading: Reading): string {
  const { situation, passesAtMs, usedBefore } = clock;
  const told = [
    clock,
    whenText(passesAtMs, reading),
    spanText(clock, words),
    passesAtMs <= reading.nowMs,
  ] as const;
  if (usedBefore === 0) return words.milk.clock(...told);
  const place =
    words.milk.places[situation.endsWith('fridge') ? 'fridge' : situation === 'cooler' ? 'cooler' : 'room'];
  return words.milk.clockAfterMove(...told, place.toLowerCase(), Math.max(1, Math.round(100 * usedBefore)));
}

/** Value of a date-and-time field in the family's zone: "2026-05-12T07:30". */
export const wallMinute = (atMs: number, zone: string): string =>
  `${dayOf(atMs, zone)}T${clockOf(atMs, zone)}`;

/** @returns the instant of such a value, ms since 1970 UTC; null if it is not one */
export function instantOfWall(wall: string, zone: string): number | null {
  const [, day, clock] = /^(\d{4}-\d\d-\d\d)T(\d\d:\d\d)/.exec(wall) ?? [];
  return day !== undefined && clock !== undefined ? instantAt(day, clock, zone) : null;
}
