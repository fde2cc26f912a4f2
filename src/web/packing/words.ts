/** Texts of the pages for packing and for the milk list. */
import type { Language } from '../../pacing/cues/words.ts';
import type { Assumption } from '../../planning/bag/assumptions.ts';
import type { BottlePlan } from '../../planning/bag/bottles.ts';
import type { Gate } from '../../planning/bag/gates.ts';
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import type { PlainName } from '../../planning/bag/plain-plans.ts';
import type { PlanRecord } from '../../planning/bag/recalibration.ts';
import type { LedgerEntry } from '../../planning/milk/ledger-state.ts';
import type { MilkKind } from '../../planning/milk/milk.ts';
import type { MilkClock } from '../../planning/milk/milk-times.ts';
import type { Place } from '../../planning/milk/places.ts';
import { PACKING_WORDS_EN } from './words-en.ts';
import { PACKING_WORDS_ES } from './words-es.ts';

export interface PackingWords {
  title: string;
  intro: string;
  day: string;
  from: string;
  until: string;
  feeds: string;
  feedsFrom: Record<PackingAnswer['feedsFrom'], string>;
  fewer: string;
  more: string;
  baby: string;
  born: string;
  bornHint: string;
  milkOnHand: (fridge: string, freezer: string) => string;
  noMilk: string;
  toMilk: string;
  /** Heading of the answer. */
  pack: (count: number) => string;
  roles: Record<'feed' | 'top-up' | 'spare', string>;
  spareApart: string;
  expected: (thrown: string, days: string) => string;
  days: (of100: number) => string;
  underOneDay: string;
  /** Why her limit cannot be met. */
  limited: Record<NonNullable<BottlePlan['limitedBy']>, (told: { onHand: string; days: string }) => string>;
  ruleOfThumb: (range: string) => string;
  whyThis: (thrown: string, days: string) => string;
  choices: string;
  gates: Record<Gate, string>;
  noClaim: string;
  nippleRuns: (name: string) => string;
  packedPlainly: (thrown: string) => string;
  ill: string;
  seen: (seen: PackingAnswer['seen']) => string;
  sameHours: string;
  record: (record: PlanRecord, thrown: string, promised: string) => string;
  thawTonight: (ids: string, when: string) => string;
  take: string;
  taken: string;
  larger: string;
  spareMissing: string;
  asIfEnough: string;
  fill: string;
  filled: string;
  filledNow: string;
  rest: (amount: string, id: string) => string;
  thawed: (amount: string) => string;
  left: Record<'held-back' | 'time-passes' | 'size-fits-less' | 'comes-later', string>;
  stays: (ids: string, why: string) => string;
  trouble: string;
  portion: string;
  perFeed: (range: string) => string;
  total: (range: string) => string;
  basis: (answer: PackingAnswer) => string;
  size: (answer: PackingAnswer['size'], size: string) => string;
  outside: string;
  leftOut: (count: number) => string;
  trade: string;
  tradeSay: string;
  thrownAway: string;
  shortOn: string;
  way: string;
  bottles: string;
  thisPlan: string;
  plain: Record<PlainName, (size: string) => string>;
  otherPlans: string;
  mayBeShort: string;
  why: string;
  assumptions: Record<Assumption['id'], (answer: PackingAnswer) => string>;
  source: string;
  print: string;
  feedingPlan: string;
  daySheet: string;
  sheetLanguage: string;
  callFirst: string;
  asPdf: string;
  asPage: string;
  rules: string;
  mostBottles: string;
  twoMore: string;
  bottlePrice: string;
  bottlePrices: Record<'none' | 'usual' | 'high', string>;
  pouring: string;
  pouringChoices: Record<'at-home' | 'none', string>;
  unopened: string;
  unopenedChoices: Record<'comes-back' | 'thrown-away', string>;
  spare: string;
  noSpare: string;
  spareRule: string;
  spareRules: Record<'last' | 'kept-apart', string>;
  leftoverRule: string;
  leftoverHint: string;
  centerTimes: string;
  hours: string;
  whose: string;
  addTime: string;
  remove: string;
  call: string;
  callName: string;
  callPhone: string;
  orCall: string;
  notes: string;
  keep: string;
  kept: string;
  milk: {
    title: string;
    intro: string;
    none: string;
    places: Record<Place, string>;
    kinds: Record<MilkKind, string>;
    marks: Record<'thawed' | 'warmed' | 'held-back' | 'offered' | 'promised', string>;
    evening: {
      heading: (day: string, name: string | null) => string;
      answers: Record<'emptied' | 'little' | 'half' | 'unopened', string>;
      allEmptied: string;
      question: string;
      enough: string;
      short: string;
      learns: string;
    };
    from: (when: string) => string;
    clock: (clock: MilkClock, when: string, span: string, hasPassed: boolean) => string;
    /** Where part of the time was used up in another place before. */
    clockAfterMove: (
      clock: MilkClock,
      when: string,
      span: string,
      hasPassed: boolean,
      place: string,
      percent: number,
    ) => string;
    usedStaysUsed: string;
    passedBeforeMove: string;
    situations: Record<MilkClock['situation'], string>;
    hours: (count: number) => string;
    days: (count: number) => string;
    months: (count: number) => string;
    caution: string;
    steps: Record<
      'thaw' | 'warm' | 'fridge' | 'freezer' | 'cooler' | 'room' | 'sleeve' | 'hold' | 'release' | 'discard',
      string
    >;
    add: string;
    amount: string;
    when: string;
    place: string;
    kind: string;
    label: string;
    enter: string;
    proposal: (when: string, amount: string) => string;
    confirm: string;
    entered: string;
    takeBack: string;
    takenBack: string;
    lines: Record<LedgerEntry['what'], string>;
    totals: (got: string, fed: string, discarded: string) => string;
    leftOut: (count: number) => string;
    toPacking: string;
  };
}

export const PACKING_WORDS: Readonly<Record<Language, PackingWords>> = {
  en: PACKING_WORDS_EN,
  es: PACKING_WORDS_ES,
};
