/** What a page may ask of the live feed, checked once at the door. */
import { z } from 'zod';
import type { LiveCommand } from '../feed/live-view.ts';
import type { ErrorAnswer } from './answers.ts';

/** Longest name kept, characters. */
export const NAME_MAX = 60;
/** Largest portion that can be entered, mL: well above any infant's bottle, to catch a slipped finger. */
export const PORTION_MAX_ML = 500;

const name = z
  .string('must be text, or null to leave it out')
  .trim()
  .max(NAME_MAX, `must be at most ${NAME_MAX} characters`)
  // A name may hold any letters, but no control characters.
  .regex(/^\P{Cc}*$/u, 'must not contain line breaks or control characters')
  .transform((text) => (text === '' ? null : text))
  .nullable();

const birthDate = (todayIso: string) =>
  z
    .string('must be a date as YYYY-MM-DD, or null to leave it out')
    .regex(/^\d{4}-\d{2}-\d{2}$/, 'must be a date as YYYY-MM-DD')
    .refine(isCalendarDate, 'is not a day of the calendar')
    .refine((date) => date <= todayIso, 'must not lie in the future')
    .refine((date) => date >= addYears(todayIso, -10), 'lies more than ten years back')
    .nullable();

function isCalendarDate(date: string): boolean {
  const time = Date.parse(`${date}T00:00:00Z`);
  return !Number.isNaN(time) && new Date(time).toISOString().startsWith(date);
}

const addYears = (dateIso: string, years: number): string =>
  `${Number(dateIso.slice(0, 4)) + years}${dateIso.slice(4)}`;

function commandSchema(todayIso: string) {
  const on = z.boolean('must be true or false');
  const setup = z.strictObject({
    babyId: name.optional(),
    teatName: name.optional(),
    babyName: name,
    babyBirthDate: birthDate(todayIso),
    bottleName: name,
    milkKind: z
      .enum(['expressed', 'formula', 'mixed'], 'must be expressed, formula, mixed or null')
      .nullable(),
    portionMl: z
      .number('must be a number of mL, or null to leave it out')
      .positive('must be more than 0 mL')
      .max(PORTION_MAX_ML, `must be at most ${PORTION_MAX_ML} mL`)
      .nullable(),
    caregiver: name,
  });
  return z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('mute'), on }),
    z.strictObject({ kind: z.literal('dim'), on }),
    z.strictObject({ kind: z.literal('pause-guidance'), on }),
    z.strictObject({ kind: z.literal('burped') }),
    z.strictObject({ kind: z.literal('hand-over'), caregiver: name }),
    z.strictObject({ kind: z.literal('which-sleeve') }),
    z.strictObject({ kind: z.literal('end-feed') }),
    z.strictObject({ kind: z.literal('discard-feed') }),
    z.strictObject({ kind: z.literal('setup'), setup }),
  ]);
}

type Checked = z.output<ReturnType<typeof commandSchema>>;

/** An answer that was not given at all stays away, as in setups from before it was asked. */
const withoutAbsent = (command: Checked): LiveCommand => JSON.parse(JSON.stringify(command)) as LiveCommand;

export type CheckedCommand = { command: LiveCommand } | ErrorAnswer;

/**
 * @param body      parsed JSON, of any shape
 * @param todayIso  today where the machine stands, YYYY-MM-DD
 * @returns the command, or what is wrong with it and where; nothing of a wrong body is used.
 */
export function checkCommand(body: unknown, todayIso: string): CheckedCommand {
  const result = commandSchema(todayIso).safeParse(body);
  if (result.success) return { command: withoutAbsent(result.data) };
  const issue = result.error.issues[0]!;
  const field = issue.path.join('.') || (issue.code === 'invalid_union' ? 'kind' : '');
  const what =
    field === 'kind'
      ? 'must be one of mute, dim, pause-guidance, burped, hand-over, which-sleeve, end-feed, discard-feed, setup'
      : issue.message;
  return {
    error: {
      code: 'bad-command',
      message: field === '' ? `The command is not understood: ${what}.` : `${field}: ${what}.`,
      remedy: 'Correct it and send it again; nothing was changed.',
      ...(field === '' ? {} : { field }),
    },
  };
}
