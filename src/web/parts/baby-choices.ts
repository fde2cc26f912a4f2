import type { NamedBaby } from '../../app/review/review-answers.ts';
import { keyOf, toldApart } from '../../base/babies.ts';
import type { Language } from '../../pacing/cues/words.ts';

const BORN: Record<Language, { locale: string; say: (day: string) => string }> = {
  en: { locale: 'en-US', say: (day) => `born ${day}` },
  es: { locale: 'es-US', say: (day) => `nació el ${day}` },
};

/** "born Jul 12, 2026". @param birthDay YYYY-MM-DD */
export function bornText(birthDay: string, language: Language): string {
  const { locale, say } = BORN[language];
  return say(
    new Intl.DateTimeFormat(locale, { dateStyle: 'medium', timeZone: 'UTC' }).format(Date.parse(birthDay)),
  );
}

/** A baby's name; babies of the same name are distinguished. */
export function babyText(baby: NamedBaby, all: readonly NamedBaby[], language: Language): string {
  const inWords = (one: NamedBaby): NamedBaby => ({
    ...one,
    birthDay: one.birthDay === null ? null : bornText(one.birthDay, language),
  });
  return toldApart(inWords(baby), all.map(inWords));
}

/** Babies with a name, to choose one of. */
export const babyChoices = (
  babies: readonly NamedBaby[],
  language: Language,
): { value: string; text: string }[] =>
  babies
    .filter(({ name }) => name !== null)
    .map((baby) => ({ value: keyOf(baby), text: babyText(baby, babies, language) }));
