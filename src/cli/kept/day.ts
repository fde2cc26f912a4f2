/** Days and ages on the command line, as the machine's own time zone has them. */
import { InvalidArgumentError } from 'commander';

/** @returns the day's first instant, ms @throws InvalidArgumentError */
export function dayStartMs(text: string): number {
  return localMidnight(text, 0);
}

/** @returns the first instant after that day, ms @throws InvalidArgumentError */
export function dayEndMs(text: string): number {
  return localMidnight(text, 1);
}

function localMidnight(text: string, daysLater: number): number {
  const [, year, month, day] = text.match(/^(\d{4})-(\d{2})-(\d{2})$/)?.map(Number) ?? [];
  const date = new Date(year!, month! - 1, day!);
  if (Number.isNaN(date.getTime()) || date.getMonth() !== month! - 1) {
    throw new InvalidArgumentError('It must be a day as YYYY-MM-DD.');
  }
  // Not 24 hours: a day on which the clocks change is longer or shorter.
  return new Date(year!, month! - 1, day! + daysLater).getTime();
}

const DAYS_IN = { d: 1, w: 7, m: 365.25 / 12, y: 365.25 } as const;

/** @returns days in "90d", "26w", "18m", "2y" @throws InvalidArgumentError */
export function ageDays(text: string): number {
  const [, number, unit] = text.match(/^(\d{1,4})([dwmy])$/) ?? [];
  if (number === undefined || Number(number) === 0) {
    throw new InvalidArgumentError('It must be a number with d, w, m or y, such as 2y.');
  }
  return Number(number) * DAYS_IN[unit as keyof typeof DAYS_IN];
}
