/**
 * The caregiver's texts by language, as plain data. It is more important that they are short and clear than that they are complete.
 * Rules for these texts: never urge to finish; no amount, nothing about what is left; no praise for an empty bottle;
 * the breast is not mentioned; the sleeve never claims to watch for distress.
 */
import { WORDS_EN, type Words } from './words-en.ts';
import { WORDS_ES } from './words-es.ts';

export const LANGUAGES = ['en', 'es'] as const;
export type Language = (typeof LANGUAGES)[number];

export type { ShownWords, WordKey, Words } from './words-en.ts';

export const WORDS: Record<Language, Words> = { en: WORDS_EN, es: WORDS_ES };
