/** The commands of a page to the live feed, checked when they arrive. */
import { z } from 'zod';
import { plainIssue } from '../base/plain-issue.ts';
import { birthDateBetween, OLDEST_YEARS, setupFields } from '../base/setup-checks.ts';
import type { LiveCommand } from '../feed/live/live-view.ts';
import type { ErrorAnswer } from './answers.ts';

/** Largest portion that can be entered, mL: well above any infant's bottle, to catch typing errors. */
export const PORTION_MAX_ML = 500;

const addYears = (dateIso: string, years: number): string =>
  `${Number(dateIso.slice(0, 4)) + years}${dateIso.slice(4)}`;

function commandSchema(todayIso: string) {
  const on = z.boolean('must be true or false');
  const birthDate = birthDateBetween(addYears(todayIso, -OLDEST_YEARS), todayIso);
  const setup = z.strictObject(setupFields(birthDate, PORTION_MAX_ML));
  return z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('mute'), on }),
    z.strictObject({ kind: z.literal('dim'), on }),
    z.strictObject({ kind: z.literal('guidance-off'), on }),
    z.strictObject({ kind: z.literal('show-cues') }),
    z.strictObject({ kind: z.literal('burped') }),
    z.strictObject({ kind: z.literal('hand-over'), caregiver: setup.shape.caregiver }),
    z.strictObject({ kind: z.literal('which-sleeve') }),
    z.strictObject({ kind: z.literal('end-feed') }),
    z.strictObject({ kind: z.literal('discard-feed') }),
    z.strictObject({ kind: z.literal('setup'), setup }),
  ]);
}

type Checked = z.output<ReturnType<typeof commandSchema>>;

/** Removes answers that are undefined, as in setups of older versions. */
const withoutAbsent = (command: Checked): LiveCommand => JSON.parse(JSON.stringify(command)) as LiveCommand;

export type CheckedCommand = { command: LiveCommand } | ErrorAnswer;

/**
 * @param body      parsed JSON, of any shape
 * @param todayIso  today in the machine's time zone, YYYY-MM-DD
 * @returns the command, or what is wrong with it and where; a wrong body is not used in part.
 */
export function checkCommand(body: unknown, todayIso: string): CheckedCommand {
  const result = commandSchema(todayIso).safeParse(body);
  if (result.success) return { command: withoutAbsent(result.data) };
  const issue = result.error.issues[0]!;
  const field = issue.path.join('.') || (issue.code === 'invalid_union' ? 'kind' : '');
  const what =
    field === 'kind'
      ? 'must be one of mute, dim, guidance-off, show-cues, burped, hand-over, which-sleeve, end-feed, discard-feed, setup'
      : plainIssue(issue);
  return {
    error: {
      code: 'bad-command',
      message: field === '' ? `The command is not understood: ${what}.` : `${field}: ${what}.`,
      remedy: 'Correct it and send it again; nothing was changed.',
      ...(field === '' ? {} : { field }),
    },
  };
}
