/** Texts of review by language: graphs, feeds, days. They describe milk, never people; no praise, no goal, no ranking. */
import type { FeedEndReason, Output } from '../../feed/record/feed.ts';
import type { Language } from '../../pacing/cues/words.ts';
import type { FeedPace } from '../facts/feed-pace.ts';
import { REVIEW_WORDS_EN } from './words-en.ts';
import { REVIEW_WORDS_ES } from './words-es.ts';

/** What came after a cue, and how many seconds after. */
export type Followed = 'lowered' | 'nipple-out' | 'eased' | 'went-on';

/** How a bottle was held on the whole. */
export type Held = 'upright' | 'base-low' | 'level' | 'steep';

export interface ReviewWords {
  /** BCP 47, for dates and numbers. */
  locale: string;
  /** Names of the strips of a graph, and what their axes count. */
  panels: Record<
    | 'taken'
    | 'flow'
    | 'bursts'
    | 'angle'
    | 'nipple'
    | 'burps'
    | 'burped'
    | 'paused'
    | 'spilt'
    | 'poured'
    | 'bottle',
    string
  >;
  units: { flow: string; sucks: string; angle: string; upright: string; level: string };
  minutesAxis: string;
  cueLine: string;
  lowerEdge: string;
  fastLine: string;
  simulatedFeed: string;
  inSimulation: string;
  /** Contains "so far" while the feed is open. */
  taken: (amount: string, time: string, isOpen: boolean) => string;
  littleTaken: (time: string, isOpen: boolean) => string;
  notKnown: string;
  refused: (amount: string) => string;
  inMinutes: (minutes: number) => string;
  spilt: (amount: string) => string;
  poured: (amount: string) => string;
  /** After the bottle was out of the sleeve. */
  bottleBack: (amount: string, isMore: boolean) => string;
  /** In plain words: how often, how long in all, and whether that was most of the feed. */
  fast: (count: number, allSec: number, isMost: boolean) => string;
  noFast: string;
  byMarks: (amount: string) => string;
  marksLeftOver: (amount: string) => string;
  marksLabel: string;
  notFinished: string;
  source: Record<'refined' | 'open' | 'live', string>;
  milkWithin: (ml: string) => string;
  flowWithin: (mlPerMin: string) => string;
  /** Stated standard deviations of milk and flow. */
  deviations: string;
  sleeve: (id: string) => string;
  calibrated: (day: string | null) => string;
  /** What the band is, by the pace that the feed ran with. Its lines in words are null where the cue was off; figures as they are. */
  bandNote: (lines: readonly string[] | null, fastMlPerMin: string) => string;
  /** Whose pace it was. */
  paceOf: Record<FeedPace['origin'], string>;
  spreadNote: string;
  hatchNote: string;
  describe: { intro: string; times: string; cue: (words: string, times: string) => string };
  pourAt: (kind: 'spill' | 'refill' | 'more' | 'less', amount: string, at: string) => string;
  noEstimate: (from: string, to: string) => string;
  quoted: (words: string) => string;
  followed: (what: Followed, seconds: number) => string;
  /** The outputs that showed a cue. */
  toldBy: (outputs: readonly Output[]) => string;
  toldUnknown: string;
  ended: Record<FeedEndReason, string>;
  /** The simulated feed came to its end; no connection was lost. */
  simulationOver: string;
  stillOpen: string;
  facts: {
    pauses: (count: number, longestSec: number) => string;
    burps: (count: number) => string;
    held: (how: Held) => string;
  };
  /** For those who want them. */
  figures: {
    title: string;
    fast: (seconds: readonly number[], mlPerMin: string) => string;
    bursts: (count: number, sucks: number) => string;
    angle: (degrees: number) => string;
    taken: string;
  };
  table: {
    title: string;
    minute: string;
    inMinute: string;
    soFar: string;
    flow: string;
    sucks: string;
    angle: string;
    cues: string;
    unknown: string;
  };
  cuesTitle: string;
  noCues: string;
  graphTitle: string;
  noteTitle: string;
  numbersTitle: string;
  compare: { title: string; first: string; second: string; describe: string };
  caution: string;
}

export const REVIEW_WORDS: Readonly<Record<Language, ReviewWords>> = {
  en: REVIEW_WORDS_EN,
  es: REVIEW_WORDS_ES,
};
