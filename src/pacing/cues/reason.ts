/** The reason of a cue as data: the rule, and the numbers that fired it. Words are made where it is read (words-because.ts). Types only. */
import type { RuleName, WORDS_EN } from './words-en.ts';

/** The slots of a text: "{sucks} sucks in {activeSec}" has `sucks` and `activeSec`. */
type Slots<Line extends string> = Line extends `${string}{${infer Slot}}${infer Rest}`
  ? (Slot extends `${infer Name}:${string}` ? Name : Slot) | Slots<Rest>
  : never;

export type Reason = {
  [Rule in RuleName]: {
    rule: Rule;
    /** Units as in the names, not rounded, so that words made later are the same; `pauseSec` is null where no suck was seen. */
    numbers: {
      [Name in Slots<(typeof WORDS_EN.because)[Rule]>]: Name extends 'pauseSec' ? number | null : number;
    };
  };
}[RuleName];

/** As stored; old feeds have an English sentence instead. */
export type KeptReason = Reason | string;
