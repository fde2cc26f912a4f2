/**
 * What the caregiver reads, by language: plain data, ready for JSON. Short and unmistakable before complete.
 * Rules for these texts: never urge to finish; no amount, nothing about what is left; no praise for an empty bottle;
 * the breast is not mentioned; the sleeve never claims to watch for distress.
 */
import type { ShownCue } from './cue.ts';
import { WORDS_EN } from './words-en.ts';
import { WORDS_ES } from './words-es.ts';

export const LANGUAGES = ['en', 'es'] as const;
export type Language = (typeof LANGUAGES)[number];

/** What can be shown: a cue, or one of the states without one. */
export type WordKey = ShownCue | 'gentle' | 'cannot-tell' | 'no-guidance' | 'guidance-off' | 'waiting';

export interface ShownWords {
  /** Read at two meters, in the dark: four words at most. */
  glance: string;
  /** What to do, in one line. */
  say: string;
  /** One line more, for who has a hand free. */
  more: string;
}

export interface Words {
  shown: Record<WordKey, ShownWords>;
  /** Fixed card, always one touch away. Signs are for eyes; the sleeve doesn't see them. */
  stressCard: { title: string; signs: string[]; act: string[]; emergency: string; notWatched: string };
  /** Where the setting is shown: that the sleeve has grown quieter by itself, and why. */
  quiet: { quieter: string; quietest: string };
  /** While screening has turned cues off (screening.ts). */
  screening: { intro: string; cuesOff: string; notScreened: string; withPlan: string };
  caution: string;
}

export const WORDS: Record<Language, Words> = { en: WORDS_EN, es: WORDS_ES };
