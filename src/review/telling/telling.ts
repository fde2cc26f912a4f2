/** All texts about one stored feed; page, file and printed sheet show the same. */

import { flOzFromMl } from '../../base/units.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import {
  answerTo,
  fastMlPerMin,
  fastStretches,
  pauses,
  secondsOf,
  uprightBreaks,
  usualTiltDeg,
} from '../facts/feed-facts.ts';
import { minuteRows } from '../facts/minutes.ts';
import { cueWords } from '../graph/cue-marks.ts';
import { type FeedTrace, feedTrace } from '../graph/feed-trace.ts';
import {
  clockText,
  describeFeed,
  provenanceText,
  readingNote,
  readingText,
  summarySentence,
  type WordOptions,
  whenText,
} from './feed-words.ts';
import { type Held, REVIEW_WORDS, type ReviewWords } from './words.ts';

export interface TellingOptions extends WordOptions {
  /** Whether the baby and caregivers are named. */
  hasNames?: boolean;
}

/** Texts in one language. */
export interface ToldFeed {
  when: string;
  /** About the milk; also by the bottle's marks, if they were read. */
  sentence: string;
  reading: string | null;
  /** The note, with its author. */
  note: string | null;
  names: string | null;
  simulated: string | null;
  ended: string;
  /** Pauses, breaks, how it was held, in plain words: a line each. */
  facts: string[];
  /** For those who want them: fast stretches, bursts, angle. */
  figures: string[];
  /** Cues that were shown, in order of time: by which output, and what followed if a sleeve can measure it. */
  cues: { at: string; words: string; by: string | null; followed: string | null }[];
  /** Shown if it was not recorded which cues were shown; then `cues` are those that the rules raised. */
  cuesNote: string | null;
  table: { heads: string[]; rows: string[][] };
  /** What the band is, and where the numbers come from. */
  bandNote: string;
  provenance: string;
  description: string;
}

export function tellFeed(feed: KeptFeed, options: TellingOptions): ToldFeed {
  const { language = 'en' } = options;
  const words = REVIEW_WORDS[language];
  const trace = feedTrace(feed);
  const setup = feed.corrected?.setup ?? feed.setup;
  const names = [setup.babyName, setup.caregiver].filter(Boolean);
  return {
    when: whenText(feed, options),
    sentence: summarySentence(feed, trace, options),
    reading: readingText(feed, trace, options),
    note: feed.corrected?.note ?? null,
    names: options.hasNames && names.length > 0 ? names.join(' · ') : null,
    simulated: feed.simulated ? words.simulatedFeed : null,
    ended: endText(feed, words),
    facts: factsOf(trace, options),
    figures: figuresOf(trace, options),
    cues: trace.cues.map((cue) => {
      const answer = answerTo(trace, cue);
      return {
        at: clockText(cue.min),
        words: cueWords(cue.shown, language),
        by: cue.by && words.toldBy(cue.by),
        followed: answer && words.followed(answer.what, answer.afterSec),
      };
    }),
    cuesNote: feed.told ? null : words.toldUnknown,
    table: tableOf(trace, options),
    bandNote: readingNote(trace, options),
    provenance: provenanceText(feed, trace, options),
    description: describeFeed(feed, trace, options),
  };
}

function factsOf(trace: FeedTrace, { language = 'en' }: WordOptions): string[] {
  const { facts } = REVIEW_WORDS[language];
  const lines: string[] = [];
  const out = pauses(trace);
  if (out.length > 0) lines.push(facts.pauses(out.length, Math.max(...out.map(secondsOf))));
  const upright = uprightBreaks(trace);
  if (upright.length > 0) lines.push(facts.burps(upright.length));
  const tilt = usualTiltDeg(trace);
  if (tilt !== null) lines.push(facts.held(heldAt(tilt)));
  return lines;
}

/** The hold in words instead of degrees; the limits are our own choice. */
const heldAt = (tiltDeg: number): Held =>
  tiltDeg < 30 ? 'upright' : tiltDeg < 75 ? 'base-low' : tiltDeg <= 105 ? 'level' : 'steep';

function figuresOf(trace: FeedTrace, { language = 'en' }: WordOptions): string[] {
  const { figures } = REVIEW_WORDS[language];
  const lines: string[] = [];
  const fast = fastStretches(trace).map((span) => Math.round(secondsOf(span)));
  if (fast.length > 0) lines.push(figures.fast(fast, String(fastMlPerMin(trace))));
  const { bursts } = trace;
  if (bursts && bursts.length > 0) {
    const sizes = bursts.map(({ suckCount }) => suckCount).sort((a, b) => a - b);
    lines.push(figures.bursts(bursts.length, sizes[Math.floor(sizes.length / 2)]!));
  }
  const tilt = usualTiltDeg(trace);
  if (tilt !== null) lines.push(figures.angle(Math.round(tilt / 5) * 5));
  return [...lines, figures.taken];
}

function tableOf(trace: FeedTrace, { volumeUnit, language = 'en' }: WordOptions): ToldFeed['table'] {
  const { table } = REVIEW_WORDS[language];
  const units = volumeUnit === 'ml' ? (['mL', 'fl oz'] as const) : (['fl oz', 'mL'] as const);
  const shown = (amount: number | null, digits: number): string =>
    amount === null ? table.unknown : amount.toFixed(digits);
  const inUnit = (ml: number | null, unit: 'mL' | 'fl oz'): string =>
    unit === 'mL' ? shown(ml, 1) : shown(ml && flOzFromMl(ml), 2);
  return {
    heads: [
      table.minute,
      table.inMinute,
      ...units.map((unit) => `${table.soFar}, ${unit}`),
      table.cues,
      table.flow,
      table.sucks,
      table.angle,
    ],
    rows: minuteRows(trace).map((row) => [
      String(row.minute),
      shown(row.takenMl, 1),
      ...units.map((unit) => inUnit(row.takenSoFarMl, unit)),
      row.cues.map((shown) => cueWords(shown, language)).join(', '),
      shown(row.mostFlowMlPerMin, 1),
      row.suckCount === null ? table.unknown : String(row.suckCount),
      row.tiltDeg === null ? '' : `${Math.round(row.tiltDeg)}°`,
    ]),
  };
}

function endText({ endReason, simulated }: KeptFeed, words: ReviewWords): string {
  if (!endReason) return words.stillOpen;
  return simulated && endReason === 'link-ended' ? words.simulationOver : words.ended[endReason];
}
