/** Texts of the pages of a day and of a week, by language. No goal, no praise, no ranking; small amounts are mentioned kindly. */
import type { HandFeed } from '../../feed/record/written-by-hand.ts';
import type { Language } from '../../pacing/cues/words.ts';
import type { DayFeedKind } from '../facts/day-sums.ts';
import { DAY_WORDS_EN } from './day-words-en.ts';
import { DAY_WORDS_ES } from './day-words-es.ts';

export interface DayWords {
  locale: string;
  taken: (amount: string, bottles: number, time: string) => string;
  noBottles: string;
  time: (seconds: number) => string;
  breast: (count: number) => string;
  unknownAmounts: (count: number) => string;
  left: (amount: string) => string;
  refused: (count: number) => string;
  restNow: string;
  published: (low: string, middle: string, high: string) => string;
  publishedWithBreast: string;
  publishedNote: string;
  publishedSource: string;
  /** Of the picture of days. */
  drawn: {
    title: string;
    taken: string;
    published: string;
    fast: string;
    day: (bottles: number, amount: string, fast: number, breast: number) => string;
  };
  clocks: (hours: number) => string;
  kinds: Record<DayFeedKind, string>;
  sides: Record<NonNullable<HandFeed['side']>, string>;
  tried: (amount: string) => string;
  minutes: (seconds: number) => string;
  byHand: string;
  open: string;
  simulated: string;
  cues: (count: number) => string;
  amountUnknown: string;
  weekTitle: (from: string, to: string) => string;
  week: (amount: string, days: number) => string;
  heads: Record<'day' | 'taken' | 'bottles' | 'breast' | 'time' | 'left' | 'expressed', string>;
  night: string;
  expressed: (amount: string) => string;
  away: (amount: string) => string;
  freezer: (amount: string, days: number | null, oldest: string) => string;
  noMilkList: string;
  notSupply: string;
  compareTitle: string;
  tooFew: (first: number, second: number) => string;
  compared: (first: string, second: string, firstRange: string, secondRange: string) => string;
  comparedFlow: (first: string, second: string) => string;
  usual: string;
  beyond: string;
  from: (low: string, high: string) => string;
}

export const DAY_WORDS: Readonly<Record<Language, DayWords>> = { en: DAY_WORDS_EN, es: DAY_WORDS_ES };
