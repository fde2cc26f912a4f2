/** What a page may ask of the live feed, checked once at the door. */
import { z } from 'zod';
import { plainIssue } from '../base/plain-issue.ts';
import { birthDateBetween, OLDEST_YEARS, setupFields } from '../base/setup-checks.ts';
import type { LiveCommand } from '../feed/live/live-view.ts';
import type { ErrorAnswer } from './answers.ts';

/** Largest portion that can be entered, mL: well above any infant's bottle, to catch a slipped finger. */
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
