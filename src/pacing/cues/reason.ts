/** Why a cue came, as data: which rule, and the numbers that fired it. Made into words where somebody reads it (words-because.ts). Types only. */
import type { RuleName, WORDS_EN } from './words-en.ts';

/** The slots of a line: "{sucks} sucks in {activeSec}" has `sucks` and `activeSec`. */
type Slots<Line extends string> = Line extends `${string}{${infer Slot}}${infer Rest}`
  ? (Slot extends `${infer Name}:${string}` ? Name : Slot) | Slots<Rest>
  : never;

export type Reason = {
  [Rule in RuleName]: {
    rule: Rule;
    /** As its name says, not rounded, so that words made later are those of the moment; `pauseSec` is null where no suck was seen. */
    numbers: {
      [Name in Slots<(typeof WORDS_EN.because)[Rule]>]: Name extends 'pauseSec' ? number | null : number;
    };
  };
}[RuleName];

/** As kept: a feed from before reasons were data has an English sentence. */
export type KeptReason = Reason | string;
