/** Schemas of corrections and of feeds written in by hand, with a plain sentence for each wrong field. */
import { z } from 'zod';
import { FieldError } from '../base/errors.ts';
import { plainIssue } from '../base/plain-issue.ts';
import { birthDateBetween, milkKind, name, OLDEST_YEARS, setupFields, text } from '../base/setup-checks.ts';
import type { AfterStep } from '../feed/record/written-by-hand.ts';

/** Largest volume, mL; more is a typing error. */
export const MOST_ML = 1000;
const LONGEST_FEED_SEC = 12 * 3600;
const NOTE_MAX = 2000;
/** Allowed difference between a phone's clock and this machine's. */
const CLOCK_GRACE_MS = 2 * 60_000;
const EARLIEST_MS = Date.UTC(2000, 0, 1);
/** Latest plausible time of any clock. */
export const LATEST_MS = Date.UTC(2100, 11, 31);
export const label = name.min(1, 'must not be empty');

export const nullableName = name.nullable();
const nullableNote = text(NOTE_MAX).nullable();
export const amountMl = z
  .number('must be a number of mL')
  .nonnegative('must not be less than 0 mL')
  .max(MOST_ML, `must be at most ${MOST_ML} mL`);

/** An instant in the past. */
export const instant = (nowMs: number) =>
  z
    .number('must be a date and time')
    .min(EARLIEST_MS, 'lies before the year 2000')
    .max(nowMs + CLOCK_GRACE_MS, 'lies in the future');

/**
 * An instant by any machine's clock, right or wrong: it may have run ahead, or started in 1970 without a battery. It is only a label, so no feed
 * is refused because of it.
 */
export const recordedInstant = z
  .number('must be a date and time')
  // A feed at the first minute of 1970 has samples from before.
  .min(-24 * 3600_000, 'lies before the year 1970')
  .max(LATEST_MS, 'lies after the year 2100');

const dayIso = (atMs: number): string => new Date(atMs).toISOString().slice(0, 10);
/** In some time zone it is already tomorrow. */
const DAY_MS = 24 * 3600_000;

/** How far back a birth date may be: limited from now, or unlimited for an old feed. */
export type Oldest = 'from-now' | 'any';

export const birthDate = (nowMs: number, oldest: Oldest) => {
  const earliest = oldest === 'any' ? null : `${new Date(nowMs).getUTCFullYear() - OLDEST_YEARS}-01-01`;
  return birthDateBetween(earliest, dayIso(nowMs + DAY_MS));
};

/** The answers before a feed, any of which may be missing; unknown (newer) answers are passed through. */
export const setupSchema = (nowMs: number, oldest: Oldest = 'from-now') =>
  z.looseObject(setupFields(birthDate(nowMs, oldest), MOST_ML)).partial();

const inOrder = ({ startedAtMs, endedAtMs }: { startedAtMs: number; endedAtMs: number | null }): boolean =>
  endedAtMs === null || (endedAtMs >= startedAtMs && endedAtMs - startedAtMs <= LONGEST_FEED_SEC * 1000);
const readable = ({ offeredMl, leftMl }: { offeredMl: number | null; leftMl: number | null }): boolean =>
  offeredMl === null || leftMl === null || leftMl <= offeredMl;
const MORE_LEFT = { message: 'is more than was offered', path: ['leftMl'] };

export const correctionSchema = (nowMs: number, oldest: Oldest = 'from-now') =>
  z.discriminatedUnion('kind', [
    z
      .strictObject({
        kind: z.literal('bottle-reading'),
        offeredMl: amountMl.nullable(),
        leftMl: amountMl,
      })
      .refine(readable, MORE_LEFT),
    z.strictObject({ kind: z.literal('note'), text: text(NOTE_MAX) }),
    z.strictObject({
      kind: z.literal('after'),
      step: z.enum(
        ['burp', 'upright', 'comfort-suck', 'waited', 'a-little-more'] satisfies AfterStep[],
        'must be a step after a feed',
      ),
      done: z.boolean('must be true or false'),
    }),
    z.strictObject({ kind: z.literal('setup'), setup: setupSchema(nowMs, oldest) }),
    z
      .strictObject({
        kind: z.literal('times'),
        startedAtMs: instant(nowMs),
        endedAtMs: instant(nowMs).nullable(),
      })
      .refine(inOrder, {
        message: 'lies before the start, or more than 12 hours after it',
        path: ['endedAtMs'],
      }),
  ]);

const handFeedFields = (nowMs: number) => ({
  kind: z.enum(['breast', 'bottle', 'refused'], 'must be breast, bottle or refused'),
  atMs: instant(nowMs),
  durationSec: z
    .number('must be a number of seconds')
    .nonnegative('must not be less than 0')
    .max(LONGEST_FEED_SEC, 'must be at most 12 hours')
    .nullable(),
  offeredMl: amountMl.nullable(),
  leftMl: amountMl.nullable(),
  milkKind: milkKind.nullable(),
  side: z.enum(['left', 'right', 'both'], 'must be left, right or both').nullable(),
  caregiver: nullableName,
  note: nullableNote,
  babyId: nullableName,
  babyName: nullableName,
});

export const handFeedSchema = (nowMs: number) =>
  z
    .strictObject(handFeedFields(nowMs))
    .refine(readable, MORE_LEFT)
    .refine(({ kind, offeredMl, leftMl }) => kind !== 'breast' || (offeredMl === null && leftMl === null), {
      message: 'is for bottles: at the breast nobody can tell how much',
      path: ['offeredMl'],
    });

export const handFeedCorrectionSchema = (nowMs: number) =>
  z.discriminatedUnion('kind', [
    z.strictObject({
      kind: z.literal('entry'),
      entry: z.strictObject(handFeedFields(nowMs)).partial(),
    }),
    z.strictObject({ kind: z.literal('withdrawn') }),
  ]);

export const milkEventSchema = (nowMs: number) =>
  z.strictObject({
    atMs: instant(nowMs),
    babyId: nullableName,
    container: label.nullable(),
    kind: label,
    entry: z.json(),
  });

/** Names of fields for people. */
const FIELD_WORDS: Record<string, string> = {
  atMs: 'time',
  startedAtMs: 'start',
  endedAtMs: 'end',
  durationSec: 'length',
  offeredMl: 'amount offered',
  leftMl: 'amount left',
  portionMl: 'portion',
  milkKind: 'kind of milk',
  babyName: 'name of the baby',
  babyBirthDate: 'date of birth',
  birthDate: 'date of birth',
  bottleName: 'bottle',
  teatName: 'nipple',
  teatFlow: 'flow of the nipple',
};

/**
 * @param what  name of the whole thing for the sentence: "the note", "the feed"
 * @returns `data`, checked
 * @throws FieldError entry-invalid at the first field that is wrong
 */
export function checked<S extends z.ZodType>(schema: S, data: unknown, what: string): z.output<S> {
  const parsed = schema.safeParse(data);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  const path = issue!.path.map(String);
  const last = path.at(-1);
  const field = last === undefined ? '' : `, ${FIELD_WORDS[last] ?? last}`;
  throw new FieldError(
    'entry-invalid',
    path.join('.'),
    `${what[0]!.toUpperCase()}${what.slice(1)}${field}: ${plainIssue(issue!)}.`,
    'Correct it and try again; nothing was changed.',
  );
}
