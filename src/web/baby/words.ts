/** What the page for a baby says, by language. */

import type { Language } from '../../pacing/cues/words.ts';
import type { BurpHabit } from '../../pacing/guidance.ts';
import type { Strictness } from '../../pacing/profile/scaled-profile.ts';
import { BABY_WORDS_EN } from './words-en.ts';
import { BABY_WORDS_ES } from './words-es.ts';

/** Parts of the form, for the message at a wrong one. */
export type Part =
  | 'name'
  | 'birthDate'
  | 'answers'
  | 'plan'
  | 'from'
  | 'usualFeedMl'
  | 'minutes'
  | 'weighed'
  | 'other';

export interface BabyWords {
  title: string;
  titleNew: string;
  who: string;
  name: string;
  born: string;
  bornHint: string;
  screening: string;
  yes: string;
  no: string;
  plan: string;
  planIntro: string;
  planOn: string;
  planOff: string;
  planFrom: string;
  planFromHint: string;
  lasting: string;
  lastingHint: string;
  pouring: string;
  pouringHint: string;
  rate: string;
  depth: string;
  rhythm: string;
  sucks: string;
  pauseSec: string;
  enough: string;
  weighed: string;
  weighedHint: string;
  weighedBefore: string;
  weighedAfter: string;
  weighedMinutes: string;
  weighedSides: string;
  weighedAdd: string;
  weighedOut: string;
  weighedMissing: string;
  weighedOwn: (feed: string, plusMinusMl: number, minutes: number) => string;
  range: (min: number, max: number) => string;
  /** The same value in ounces: a rate or an amount. */
  inOunces: Record<'rate' | 'amount', (flOz: string) => string>;
  pace: string;
  paces: Record<Strictness, string>;
  paceHint: string;
  usualFeed: string;
  learned: (volume: string) => string;
  notLearned: string;
  learnInstead: string;
  less: string;
  more: string;
  breastfed: string;
  minutes: string;
  minutesHint: string;
  sides: string;
  oneSide: string;
  twoSides: string;
  burp: string;
  burps: Record<BurpHabit, string>;
  burpHint: string;
  hints: string;
  /** Why a short rest may be wanted. */
  rhythmWhy: string;
  sound: string;
  soundOn: string;
  soundOff: string;
  soundHint: string;
  keep: string;
  kept: string;
  next: string;
  unknown: string;
  wrong: string;
  troubles: Record<Part, string>;
  nameTaken: string;
}

export const BABY_WORDS: Readonly<Record<Language, BabyWords>> = { en: BABY_WORDS_EN, es: BABY_WORDS_ES };
