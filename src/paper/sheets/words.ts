/** Texts of the feeding plan and the day sheet, by language. Functions only for texts with values. */
import type { MilkKind } from '../../planning/milk/milk.ts';
import { PRINTED_WORDS_EN } from './words-en.ts';
import { PRINTED_WORDS_ES } from './words-es.ts';

export const PRINTED_LANGUAGES = ['en', 'es'] as const;
export type PrintedLanguage = (typeof PRINTED_LANGUAGES)[number];

/** The light's signs, in the order of the printed list. */
export const LIGHT_SIGNS = ['tilt-down', 'burp', 'switch-side', 'offer-stop', 'cannot-tell'] as const;
export type LightSignName = (typeof LIGHT_SIGNS)[number];

interface Block {
  heading: string;
  lines: string[];
}

export interface PrintedWords {
  title: string;
  lead: string;
  flOz: string;
  hold: Block;
  pace: Block & {
    /** From the baby's own stored feeds. */
    ownMinutes: (low: string, high: string) => string;
    leafletMinutes: string;
  };
  burp: { heading: string; every: (amount: string) => string; halfWay: string; lines: string[] };
  bottles: {
    heading: string;
    usual: (range: string) => string;
    feeds: (sizes: string) => string;
    topUps: (sizes: string) => string;
    spare: Record<'last' | 'kept-apart', (size: string) => string>;
    unknown: string;
  };
  hungry: Block;
  full: Block;
  leftovers: { heading: string; rules: Record<MilkKind, string> };
  notesHeading: string;
  light: {
    heading: string;
    signs: Record<LightSignName, { looks: string; means: string }>;
    note: string;
  };
  stop: { heading: string; signs: string; act: string; emergency: string };
  reachHeading: string;
  caution: string;
  /** How often a burp is offered has two sources. */
  sources: string;
  sheet: {
    title: string;
    baby: string;
    day: string;
    columns: readonly string[];
    milk: Record<MilkKind, string>;
    withSleeve: string;
    kinds: Record<'breast' | 'refused', string>;
    /** Shown if a day has more feeds than lines. */
    earlier: (count: number) => string;
    notes: string[];
    remarks: string;
    signature: string;
  };
}

export const PRINTED_WORDS: Readonly<Record<PrintedLanguage, PrintedWords>> = {
  en: PRINTED_WORDS_EN,
  es: PRINTED_WORDS_ES,
};
