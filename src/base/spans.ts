/** A length of time in the unit in which people would say it. */
export interface Span {
  count: number;
  unit: 'hours' | 'days' | 'months';
}

const DAYS_A_MONTH = 365 / 12;

/** Hours below two days; months where it is whole months to a day; else days. */
export function spanOf(hours: number): Span {
  if (hours < 48) return { count: hours, unit: 'hours' };
  const days = Math.round(hours / 24);
  const months = Math.round(days / DAYS_A_MONTH);
  return months >= 2 && Math.abs(days - months * DAYS_A_MONTH) < 1
    ? { count: months, unit: 'months' }
    : { count: days, unit: 'days' };
}
