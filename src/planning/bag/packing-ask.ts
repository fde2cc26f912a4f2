/** What a plan is asked with: whose, for which day and hours, how many feeds. */
import { z } from 'zod';
import { ageInDays, dayAfter, instantAt } from '../../base/calendar.ts';
import { FieldError } from '../../base/errors.ts';
import { OLDEST_DAYS } from '../intake/daily-intake.ts';
import type { AwayTime } from './packing-rules.ts';

const packingAskSchema = z.strictObject({
  birthDay: z.iso.date('must be a date as YYYY-MM-DD'),
  /** The day away, in local time; an end before the start is on the next day. */
  day: z.iso.date('must be a date as YYYY-MM-DD'),
  from: z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time from 00:00 to 23:59'),
  until: z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time from 00:00 to 23:59'),
  /** Feeds that will be missed; null: as many as usually fall into those hours. */
  feeds: z
    .int('must be a whole number')
    .min(1, 'must be at least 1')
    .max(16, 'must be at most 16')
    .nullable()
    .default(null),
  /** The baby is ill now. */
  ill: z.boolean('must be yes or no').default(false),
});

export type PackingAsk = z.output<typeof packingAskSchema>;

const ENTRIES: Readonly<Record<string, string>> = {
  birthDay: 'The birth date',
  day: 'The day',
  from: 'The start of the time away',
  until: 'The end of the time away',
  feeds: 'The number of feeds',
};

/** @throws FieldError at the entry that is wrong */
export function readPackingAsk(data: unknown): PackingAsk {
  const parsed = packingAskSchema.safeParse(data);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  const field = issue!.path.join('.');
  throw new FieldError(
    'packing-entry',
    field,
    `${ENTRIES[field] ?? 'The question'} ${issue!.message}.`,
    'Correct it and try again.',
  );
}

export function awayOf({ day, from, until }: PackingAsk, zone: string): AwayTime {
  const fromMs = instantAt(day, from, zone);
  const untilMs = instantAt(until > from ? day : dayAfter(day), until, zone);
  return { fromMs, untilMs };
}

/** @throws FieldError birth-in-future, age-beyond-curve */
export function ageOf({ birthDay, day }: PackingAsk): number {
  if (birthDay > day)
    throw new FieldError(
      'birth-in-future',
      'birthDay',
      `The birth date ${birthDay} lies after ${day}.`,
      'Check the birth date.',
    );
  const ageDays = Math.max(1, ageInDays(birthDay, day));
  if (ageDays > OLDEST_DAYS)
    throw new FieldError(
      'age-beyond-curve',
      'birthDay',
      `The baby will be ${Math.floor(ageDays)} days old; the published curve ends at 12 months.`,
      'Check the birth date. After 12 months plan from what the child usually takes, with your clinician.',
    );
  return ageDays;
}
