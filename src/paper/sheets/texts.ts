/** Amounts of milk as people read them off a bottle, quarters of an ounce and steps of 5 mL; and dates. */
import { flOzFromMl, mlFromFlOz, quarterFlOzText } from '../../base/units.ts';
import type { PrintedLanguage } from './words.ts';

/** "2½–3½ fl oz (75–105 mL)"; one number where both are the same. */
export function rangeText(lowMl: number, highMl: number, flOz: string): string {
  const join = (low: string, high: string): string => (low === high ? low : `${low}–${high}`);
  const five = (ml: number): string => String(5 * Math.round(ml / 5));
  return `${join(quarterFlOzText(lowMl), quarterFlOzText(highMl))} ${flOz} (${join(five(lowMl), five(highMl))} mL)`;
}

const quarterMl = (quarters: number): number => mlFromFlOz(quarters / 4);
const quartersOf = (ml: number): number => Math.round(flOzFromMl(ml) * 4);

/** The rest of a whole after a part, so that the printed numbers add up in both units. @param partMl at most `wholeMl` */
export function restText(wholeMl: number, partMl: number, flOz: string): string {
  const quarters = quarterFlOzText(quarterMl(quartersOf(wholeMl) - quartersOf(partMl)));
  return `${quarters} ${flOz} (${5 * (Math.round(wholeMl / 5) - Math.round(partMl / 5))} mL)`;
}

/** "3 × 2½ fl oz (75 mL), 1 × 2 fl oz (60 mL)"; without a line break between count and size. */
export function countedSizes(sizesMl: readonly number[], flOz: string): string {
  const counts = new Map<string, number>();
  for (const ml of sizesMl) {
    const text = rangeText(ml, ml, flOz);
    counts.set(text, (counts.get(text) ?? 0) + 1);
  }
  return [...counts].map(([text, count]) => `${count} ×\u00a0${text}`).join(', ');
}

const LOCALES: Record<PrintedLanguage, string> = { en: 'en-US', es: 'es-US' };

/** "May 12, 2026". @param day "YYYY-MM-DD" */
export const dateText = (day: string, language: PrintedLanguage): string =>
  new Intl.DateTimeFormat(LOCALES[language], { dateStyle: 'long', timeZone: 'UTC' }).format(
    Date.parse(`${day}T00:00:00Z`),
  );

/** A clock time as people read it: "2:05 PM" in English, 24 hours in Spanish. @param clock "HH:MM" */
export function clockText(clock: string, language: PrintedLanguage): string {
  if (language === 'es') return clock;
  const [hour, minute] = clock.split(':') as [string, string];
  return `${Number(hour) % 12 || 12}:${minute} ${Number(hour) < 12 ? 'AM' : 'PM'}`;
}
