/** Amounts, chances and times of the packing pages, for people. Pure. */

import { quarterFlOzText, type VolumeUnit } from '../../base/units.ts';
import type { Language } from '../../pacing/cues/words.ts';
import type { MilkClock } from '../../planning/milk/milk-times.ts';
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

/** Same sizes counted, in the order they come. */
export function counted(sizesMl: readonly number[]): { ml: number; count: number }[] {
  const counts = new Map<number, number>();
  for (const ml of sizesMl) counts.set(ml, (counts.get(ml) ?? 0) + 1);
  return [...counts].map(([ml, count]) => ({ ml, count }));
}

/** "Tue, May 12, 7:30 AM", where the browser stands; with the year where it is another than now. */
export const whenText = (atMs: number, language: Language, nowMs = Date.now()): string =>
  new Intl.DateTimeFormat(LOCALES[language], {
    weekday: 'short',
    month: 'short',
    day: 'numeric',
    hour: 'numeric',
    minute: '2-digit',
    ...(new Date(atMs).getFullYear() !== new Date(nowMs).getFullYear() && { year: 'numeric' }),
  }).format(atMs);

/** "Tue, May 12", where the browser stands. */
export const dayText = (atMs: number, language: Language): string =>
  new Intl.DateTimeFormat(LOCALES[language], { weekday: 'short', month: 'short', day: 'numeric' }).format(
    atMs,
  );

/** "4 days", "2 hours". */
export function spanText({ hours }: MilkClock, words: PackingWords): string {
  return hours < 48 ? words.milk.hours(hours) : words.milk.days(Math.round(hours / 24));
}

/** One clock in a sentence; a time that has passed is told as passed. */
export function milkClockText(
  clock: MilkClock,
  nowMs: number,
  words: PackingWords,
  language: Language,
): string {
  const { situation, passesAtMs, usedBefore } = clock;
  const told = [
    clock,
    whenText(passesAtMs, language, nowMs),
    spanText(clock, words),
    passesAtMs <= nowMs,
  ] as const;
  if (usedBefore === 0) return words.milk.clock(...told);
  const place =
    words.milk.places[situation.endsWith('fridge') ? 'fridge' : situation === 'cooler' ? 'cooler' : 'room'];
  return words.milk.clockAfterMove(...told, place.toLowerCase(), Math.max(1, Math.round(100 * usedBefore)));
}

/** Value of a field for date and time, where the browser stands: "2026-05-12T07:30". */
export function localMinute(atMs: number): string {
  const at = new Date(atMs);
  const two = (part: number): string => String(part).padStart(2, '0');
  return `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}T${two(at.getHours())}:${two(at.getMinutes())}`;
}
