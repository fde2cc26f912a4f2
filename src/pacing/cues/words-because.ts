/** Why a cue came, in words: from the rule and its numbers, by language. */
import { volumeText } from '../../base/units.ts';
import type { KeptReason } from './reason.ts';
import { type Language, WORDS } from './words.ts';

const SLOT = /\{(\w+)(?::(\d))?\}/g;

/** "36 s", "2 min", "5 min 20 s". */
function timeText(sec: number): string {
  const whole = Math.round(sec);
  if (whole < 100) return `${whole} s`;
  const rest = whole % 60;
  return `${Math.floor(whole / 60)} min${rest === 0 ? '' : ` ${rest} s`}`;
}

function slotText(
  name: string,
  value: number | null,
  digits: string | undefined,
  language: Language,
): string {
  const { pause } = WORDS[language];
  if (value === null) return pause.noSuck;
  if (name === 'pauseSec') return pause.without.replace('{seconds}', value.toFixed(1));
  if (digits !== undefined) return value.toFixed(Number(digits));
  if (name.endsWith('Ml')) return volumeText(value);
  return name.endsWith('Sec') ? timeText(value) : String(value);
}

/**
 * @param reason a cue's, live or kept
 * @returns one plain line; a rule that this version does not know is named, not told
 */
export function becauseText(reason: KeptReason, language: Language): string {
  if (typeof reason === 'string') return sentenceIn(language, reason);
  const line: string | undefined = WORDS[language].because[reason.rule];
  if (line === undefined) return reason.rule;
  const numbers: Readonly<Record<string, number | null>> = reason.numbers;
  return line.replaceAll(SLOT, (_, name: string, digits?: string) =>
    slotText(name, numbers[name] ?? null, digits, language),
  );
}

/* From here on: only for feeds kept before reasons were data, whose sentence is English. Nothing new is written that way. */

const patternOf = (line: string): RegExp =>
  // The whole line has to fit; a slot takes no more than it must.
  new RegExp(`^${line.replaceAll(/[.°;:?](?!\d?\})/g, '\\$&').replaceAll(SLOT, '(?<$1>.+?)')}$`);

const linesOf = (language: Language): [name: string, line: string][] => {
  const { because, pause } = WORDS[language];
  return Object.entries({ ...because, ...pause });
};
const readers = linesOf('en').map(([name, line]) => ({ name, reads: patternOf(line) }));

/** @returns the sentence in that language; as recorded where no pattern fits */
function sentenceIn(language: Language, recorded: string): string {
  if (language === 'en') return recorded;
  // A pattern that says more also fits one that says less: take the one whose slots hold least.
  const [fitting] = readers
    .flatMap(({ name, reads }) => {
      const found = reads.exec(recorded);
      return found ? [{ name, slots: { ...found.groups } }] : [];
    })
    .sort((one, other) => heldBy(one.slots) - heldBy(other.slots));
  if (!fitting) return recorded;
  const line = Object.fromEntries(linesOf(language))[fitting.name]!;
  return line.replaceAll(SLOT, (_, name: string) => sentenceIn(language, fitting.slots[name] ?? ''));
}

const heldBy = (slots: Readonly<Record<string, string>>): number =>
  Object.values(slots).reduce((sum, one) => sum + one.length, 0);
