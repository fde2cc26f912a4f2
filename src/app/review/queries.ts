/** Query parameters: language, unit, names, a day. An invalid value is ignored or refused in plain words. */

import { dayStartMs } from '../../base/calendar.ts';
import { FieldError } from '../../base/errors.ts';
import type { VolumeUnit } from '../../base/units.ts';
import { LANGUAGES, type Language } from '../../pacing/index.ts';
import type { Query } from './review-answers.ts';

const LONGEST_NOTE = 2000;
const MOST_WIDTH_PX = 2400;

export const languageOf = ({ language }: Query): Language =>
  LANGUAGES.find((one) => one === language) ?? 'en';

export const unitOf = ({ unit }: Query): VolumeUnit => (unit === 'ml' ? 'ml' : 'fl-oz');

/** @returns the text if it is given and not empty, else undefined */
export const textOf = (query: Query, name: string): string | undefined => {
  const text = query[name];
  return typeof text === 'string' && text.trim() !== '' ? text.trim() : undefined;
};

/** @returns the note for a file; empty: none; undefined: the stored one, if any */
export const noteOf = ({ note }: Query): string | undefined =>
  typeof note === 'string' ? note.trim().slice(0, LONGEST_NOTE) : undefined;

export const isOn = (query: Query, name: string): boolean => query[name] === '1';

/** @throws FieldError when it is no day of the calendar */
export function dayIn(query: Query, name: string, zone: string): string | undefined {
  const day = textOf(query, name);
  if (day === undefined) return undefined;
  try {
    dayStartMs(day, zone);
    return day;
  } catch (cause) {
    const { message, remedy } = cause as FieldError;
    throw new FieldError('day-impossible', name, message, remedy);
  }
}

/** Options of a graph inside the page: the page's width and colors. */
export function inPage({ width }: Query): { theme: 'inline'; widthPx?: number } {
  const widthPx = Number(width);
  return { theme: 'inline', ...(widthPx > 0 && { widthPx: Math.min(MOST_WIDTH_PX, widthPx) }) };
}
