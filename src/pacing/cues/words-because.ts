/** Turns the reason of a cue (rule and numbers) into words, by language. */
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
 * @param reason of a live or a stored cue
 * @returns one plain line; a rule that this version does not know is given by its name
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

/* From here on: only for feeds stored before reasons were data, whose reason is an English sentence. New feeds have none. */

const patternOf = (line: string): RegExp =>
  // The whole line has to match; slots match as little as possible.
  new RegExp(`^${line.replaceAll(/[.°;:?](?!\d?\})/g, '\\$&').replaceAll(SLOT, '(?<$1>.+?)')}$`);

const linesOf = (language: Language): [name: string, line: string][] => {
  const { because, pause } = WORDS[language];
  return Object.entries({ ...because, ...pause });
};
const readers = linesOf('en').map(([name, line]) => ({ name, reads: patternOf(line) }));

/** @returns the sentence translated; unchanged where no pattern matches */
function sentenceIn(language: Language, recorded: string): string {
  if (language === 'en') return recorded;
  // Several patterns may match: take the one whose slots hold the least text.
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
