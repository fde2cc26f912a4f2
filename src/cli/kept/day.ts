/** Days on the command line, as the machine's own time zone has them. */
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
