/** Schemas of the answers before a feed, shared by the server and the store, so that both accept the same values. Pure. */
import { z } from 'zod';

/** Longest name kept, characters. */
const NAME_MAX = 80;
/** Oldest child that is entered, years. */
export const OLDEST_YEARS = 10;

export const text = (most: number) =>
  z
    .string('must be text')
    .trim()
    .max(most, `must be at most ${most} characters`)
    .regex(/^[\P{Cc}\n\t]*$/u, 'must not contain control characters');

/** Any characters, on one line. */
export const name = text(NAME_MAX).regex(/^[^\n\t]*$/, 'must be one line');

export const milkKind = z.enum(
  ['expressed', 'formula', 'mixed'],
  'must be expressed, formula, mixed or nothing',
);

const isCalendarDate = (date: string): boolean => {
  const time = Date.parse(`${date}T00:00:00Z`);
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(date);
};

/** @param earliest, latest days as YYYY-MM-DD, both included; `earliest` null: as far back as may be */
export const birthDateBetween = (earliest: string | null, latest: string) =>
  z
    .string('must be a date as YYYY-MM-DD')
    .regex(/^\d{4}-\d{2}-\d{2}$/, 'must be a date as YYYY-MM-DD')
    .refine(isCalendarDate, 'is not a day of the calendar')
    .refine((date) => date <= latest, 'lies in the future')
    .refine((date) => earliest === null || date >= earliest, `lies more than ${OLDEST_YEARS} years back`);

/** What the nipple's pack says of its flow. Packs do not say how fast a nipple really is (Pados, Park, Dodrill 2019), so this is a word and is never turned into a number. */
export const TEAT_FLOWS = ['slow', 'medium', 'fast'] as const;

/** A blank name means that none was given. */
const nameOrNone = name.transform((text) => (text === '' ? null : text)).nullable();

/**
 * The answers before a feed: one list of fields for the server, for corrections of a feed, and for exports. `babyId` and the fields after it were added
 * in later versions, so they may be missing.
 * @param birthDate  schema of the birth date
 * @param mostMl  the largest portion that is accepted here, mL
 */
export const setupFields = (birthDate: ReturnType<typeof birthDateBetween>, mostMl: number) => ({
  babyName: nameOrNone,
  babyBirthDate: birthDate.nullable(),
  bottleName: nameOrNone,
  milkKind: milkKind.nullable(),
  portionMl: z
    .number('must be a number of mL, or null to leave it out')
    .positive('must be more than 0 mL')
    .max(mostMl, `must be at most ${mostMl} mL`)
    .nullable(),
  caregiver: nameOrNone,
  babyId: nameOrNone.optional(),
  teatName: nameOrNone.optional(),
  teatFlow: z.enum(TEAT_FLOWS, 'must be slow, medium, fast or nothing').nullable().optional(),
  study: nameOrNone.optional(),
  participant: nameOrNone.optional(),
});
