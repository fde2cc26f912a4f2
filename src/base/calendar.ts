/**
 * Days and clock times in a place. Instants are milliseconds since 1970 UTC; only here do they become days of an IANA
 * time zone, by the runtime's own copy of that database. Nothing here knows what time it is now.
 */
import { PlainError } from './errors.ts';

export const HOUR_MS = 3_600_000;
export const DAY_MS = 24 * HOUR_MS;

const FORMATS = new Map<string, Intl.DateTimeFormat>();

function formatOf(zone: string): Intl.DateTimeFormat {
  let format = FORMATS.get(zone);
  if (!format) {
    try {
      format = new Intl.DateTimeFormat('en-US', {
        timeZone: zone,
        hourCycle: 'h23',
        year: 'numeric',
        month: '2-digit',
        day: '2-digit',
        hour: '2-digit',
        minute: '2-digit',
        second: '2-digit',
      });
    } catch (cause) {
      throw new PlainError(
        'zone-unknown',
        `There is no time zone ${zone}.`,
        'Give one of the IANA names, such as America/Chicago.',
        { cause },
      );
    }
    FORMATS.set(zone, format);
  }
  return format;
}

/** Local time: year, month (1–12), day, hour, minute, second. */
type WallClock = [number, number, number, number, number, number];

function wallClock(atMs: number, zone: string): WallClock {
  const parts = Object.fromEntries(
    formatOf(zone)
      .formatToParts(atMs)
      .map(({ type, value }) => [type, Number(value)]),
  ) as Record<string, number>;
  return [parts.year!, parts.month!, parts.day!, parts.hour!, parts.minute!, parts.second!];
}

const two = (value: number): string => String(value).padStart(2, '0');

/** @returns the day in the zone, "2026-03-08". @throws PlainError for an unknown zone */
export function dayOf(atMs: number, zone: string): string {
  const [year, month, day] = wallClock(atMs, zone);
  return `${String(year).padStart(4, '0')}-${two(month)}-${two(day)}`;
}

/** @returns the local time, "14:05". */
export function clockOf(atMs: number, zone: string): string {
  const [, , , hour, minute] = wallClock(atMs, zone);
  return `${two(hour)}:${two(minute)}`;
}

/** @returns how far the zone's clocks are ahead of UTC at that instant, ms. */
export function offsetMs(atMs: number, zone: string): number {
  const [year, month, day, hour, minute, second] = wallClock(atMs, zone);
  return Date.UTC(year, month - 1, day, hour, minute, second) - Math.floor(atMs / 1000) * 1000;
}

/**
 * The first instant of a day in a zone. Where the clocks skip midnight, that is the instant after the skip.
 * @param day "YYYY-MM-DD"
 */
export function dayStartMs(day: string, zone: string): number {
  const utcMs = dayNumber(day) * DAY_MS;
  // The answer lies within a day of the same local time read as UTC; the date changes once in that span.
  let before = utcMs - DAY_MS;
  let after = utcMs + DAY_MS;
  while (after - before > 1) {
    const middle = Math.floor((before + after) / 2);
    if (dayOf(middle, zone) < day) before = middle;
    else after = middle;
  }
  return after;
}

/**
 * The instant of a local time. A time that the clocks skip is moved on by the length of the skip; of a time that comes twice, the first is taken.
 * @param clock "HH:MM", 00:00 to 23:59
 * @throws PlainError when there is no such day, time or zone
 */
export function instantAt(day: string, clock: string, zone: string): number {
  const [, hour, minute] = /^([01]\d|2[0-3]):([0-5]\d)$/.exec(clock)?.map(Number) ?? [];
  if (hour === undefined || minute === undefined)
    throw new PlainError(
      'time-impossible',
      `There is no time "${clock}".`,
      'Write it as HH:MM, 00:00 to 23:59.',
    );
  const wallMs = dayNumber(day) * DAY_MS + (hour * 60 + minute) * 60_000;
  // The offset in force is either that of the day before or that of the day after.
  const [before, after] = [
    wallMs - offsetMs(wallMs - DAY_MS, zone),
    wallMs - offsetMs(wallMs + DAY_MS, zone),
  ];
  const shown = (atMs: number): boolean => dayOf(atMs, zone) === day && clockOf(atMs, zone) === clock;
  const fitting = [before, after].filter(shown);
  return fitting.length > 0 ? Math.min(...fitting) : Math.max(before, after);
}

/** @returns length of the day in hours: 23 or 25 when the clocks change. */
export const dayLengthHours = (day: string, zone: string): number =>
  (dayStartMs(dayAfter(day), zone) - dayStartMs(day, zone)) / HOUR_MS;

/** @returns the calendar day `days` later. */
export function dayAfter(day: string, days = 1): string {
  return new Date((dayNumber(day) + days) * DAY_MS).toISOString().slice(0, 10);
}

/** @returns whole calendar days from birth to a day; 0 on the day of birth. @throws PlainError for impossible dates */
export function ageInDays(birthDay: string, day: string): number {
  const age = dayNumber(day) - dayNumber(birthDay);
  if (age < 0) {
    throw new PlainError(
      'birth-in-future',
      `The birth date ${birthDay} lies after ${day}.`,
      'Check the birth date.',
    );
  }
  return age;
}

/** Days since 1970-01-01. @throws PlainError when there is no such date */
function dayNumber(day: string): number {
  const [, year, month, date] = /^(\d{4})-(\d{2})-(\d{2})$/.exec(day)?.map(Number) ?? [];
  const ms = year === undefined ? Number.NaN : Date.UTC(year, month! - 1, date!);
  if (Number.isNaN(ms) || new Date(ms).toISOString().slice(0, 10) !== day) {
    throw new PlainError('date-impossible', `There is no date "${day}".`, 'Write it as YYYY-MM-DD.');
  }
  return ms / DAY_MS;
}
