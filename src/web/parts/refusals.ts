/** A refusal by the server in the page's language. */
import type { Language } from '../../pacing/cues/words.ts';
import { TROUBLES_ES } from '../live/troubles.ts';
import type { Texts } from '../words/texts.ts';
import type { Refused } from './ask.ts';
import { REFUSALS_ES } from './refusals-es.ts';

/** @returns what is wrong, and what to do */
export function refusalText(
  { code, message, remedy }: Refused,
  language: Language,
  { refused }: Pick<Texts, 'refused'>,
): readonly [what: string, remedy: string] {
  if (code === 'unreached') return [refused.unreached, refused.unreachedRemedy];
  if (language === 'en') return [message, remedy];
  const trouble = TROUBLES_ES[code];
  return REFUSALS_ES[code] ?? (trouble ? [trouble, ''] : [message, remedy]);
}
