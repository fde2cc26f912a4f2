/** Texts of the pages about past feeds. Texts about feeds, days and graphs come from the server in the same language. */
import type { Language } from '../../pacing/cues/words.ts';
import { FEEDS_WORDS_EN } from './words-en.ts';
import { FEEDS_WORDS_ES } from './words-es.ts';

export interface FeedsWords {
  day: string;
  week: string;
  writeIn: string;
  find: string;
  until: string;
  bottle: string;
  teat: string;
  baby: string;
  any: string;
  nothingFound: string;
  more: string;
  values: {
    label: string;
    hint: string;
    unknown: string;
    taken: (amount: string) => string;
    flow: (mlPerMin: string, within: string | null) => string;
    angle: (degrees: number) => string;
    out: string;
    sucks: (count: number) => string;
  };
  cues: string;
  noCues: string;
  figures: string;
  table: string;
  beside: {
    title: string;
    intro: string;
    offered: string;
    left: string;
    note: string;
    noteHint: string;
    by: string;
    keep: string;
    kept: string;
    mayNotBeEmpty: string;
  };
  handOn: {
    title: string;
    intro: string;
    withNote: string;
    withNames: string;
    page: string;
    sheet: string;
    picture: string;
    drawing: string;
    note: string;
  };
  nipple: {
    /** @param mmHg pressure of the test; null: the milk ran by itself */
    measured: (day: string, mlPerMin: string, mmHg: number | null) => string;
    asMeasured: string;
    faster: (gave: string, most: string, mmHg: number | null) => string;
  };
  compare: {
    title: string;
    first: string;
    second: string;
    with: string;
    choose: string;
    show: string;
    intro: string;
  };
  zone: {
    label: string;
    told: (place: string) => string;
    onUtc: string;
    differ: (machine: string, device: string) => string;
    take: (place: string) => string;
  };
  days: {
    title: string;
    before: string;
    after: string;
    other: string;
    none: string;
    takeBack: string;
    published: string;
    milk: string;
    weekBefore: string;
    weekAfter: string;
    table: string;
  };
  write: {
    title: string;
    intro: string;
    kind: string;
    kinds: Record<'breast' | 'bottle' | 'refused', string>;
    day: string;
    clock: string;
    again: string;
    minutes: string;
    offered: string;
    left: string;
    side: string;
    sides: Record<'left' | 'right' | 'both', string>;
    by: string;
    note: string;
    keep: string;
    refusedHint: string;
  };
}

export const FEEDS_WORDS: Readonly<Record<Language, FeedsWords>> = { en: FEEDS_WORDS_EN, es: FEEDS_WORDS_ES };
