/** The page's own texts, by language. Texts for cues and states, the card of stress signs and the caution are in src/pacing/cues/words.ts. */

import type { LinkCause } from '../../feed/live/live-view.ts';
import type { MilkKind } from '../../feed/record/feed.ts';
import type { Language } from '../../pacing/cues/words.ts';
import type { QualityReason } from '../../sensing/moment.ts';
import { TEXTS_EN } from './texts-en.ts';
import { TEXTS_ES } from './texts-es.ts';

export interface Texts {
  /** Name of the language in that language. */
  languageName: string;
  live: {
    title: string;
    simulated: string;
    practice: string;
    oneMoment: string;
    silent: string;
    /** What is wrong and what to do, when the estimate is too poor for cues. */
    reasons: Record<QualityReason, string>;
    /** Why there is no guidance, and what to do; `say` if the cause is not the sleeve's silence. */
    causes: Record<LinkCause, { say?: string; more: string }>;
    ended: { glance: string; say: string; seeFeed: string; seePractice: string };
    /** For a feed that has ended while the disk cannot be written. */
    unkept: string;
    discarded: { glance: string; say: string };
    standFirst: string;
    guidanceOn: string;
    showCues: string;
    paceStart: string;
    paceMark: string;
    backToFeed: string;
    /** Name of the clock, and its value. */
    sinceStart: string;
    clock: (wholeMinutes: number) => string;
  };
  touch: {
    burped: string;
    cuesOff: string;
    sound: string;
    dim: string;
    signs: string;
    endFeed: string;
    more: string;
    close: string;
    burpNoted: string;
    whichSleeve: string;
    sleeveGlows: string;
    handOver: string;
    handOverNow: string;
    handedOver: string;
    notReached: string;
  };
  ending: {
    title: string;
    say: string;
    end: string;
    goOn: string;
    notAFeed: string;
    notAFeedTitle: string;
    notAFeedSay: string;
    leaveOut: string;
  };
  go: {
    now: string;
    before: string;
    feeds: string;
    packing: string;
    kept: string;
    milk: string;
    numbers: string;
    practice: string;
    sharing: string;
    language: string;
    unit: string;
    navigation: string;
  };
  before: {
    title: string;
    intro: string;
    battery: (percent: number) => string;
    baby: string;
    otherBaby: string;
    name: string;
    born: string;
    bottle: string;
    bottleHint: string;
    milk: string;
    milkKinds: Record<MilkKind, string>;
    portion: string;
    portionHint: string;
    noPortion: string;
    less: string;
    more: string;
    caregiver: string;
    caregiverHint: string;
    skipOne: string;
    keep: string;
    skip: string;
  };
  feeds: {
    title: string;
    none: string;
    simulated: string;
    simulatedLong: string;
    open: string;
    cues: (count: number) => string;
    minutes: (durationSec: number) => string;
    asking: string;
  };
  feed: {
    title: string;
    notRefined: string;
    graph: string;
    graphMissing: string;
    noMinutes: string;
    allFeeds: string;
  };
  builder: {
    title: string;
    intro: string;
    rows: {
      showing: string;
      because: string;
      quality: string;
      link: string;
      milk: string;
      flow: string;
      intake: string;
      tilt: string;
      ahead: string;
      teat: string;
      elapsed: string;
      battery: string;
      samples: string;
    };
    teatIn: string;
    teatOut: string;
    samples: (accepted: number, rejected: number, missing: number) => string;
    unknown: string;
  };
  refused: { unreached: string; unreachedRemedy: string };
}

export const TEXTS: Record<Language, Texts> = { en: TEXTS_EN, es: TEXTS_ES };
