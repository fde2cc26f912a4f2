/** A feed in sentences: about milk, not about people. Rounded for people; the data stay exact. */

import { flOzFromMl, quarterFlOzText, type VolumeUnit, volumeText } from '../../base/units.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import { CUE_KINDS } from '../../pacing/cues/cues.ts';
import type { Language } from '../../pacing/cues/words.ts';
import { fastMlPerMin, fastStretches, secondsOf } from '../facts/feed-facts.ts';
import { cueWords } from '../graph/cue-marks.ts';
import type { FeedTrace, Span } from '../graph/feed-trace.ts';
import { REVIEW_WORDS } from './words.ts';

/** How amounts and times are written. */
export interface WordOptions {
  /** Which unit stands first. */
  volumeUnit: VolumeUnit;
  /** IANA name; the host's own if absent. */
  timeZone?: string | undefined;
  /** English if absent. */
  language?: Language | undefined;
}

/** Coverage factor of stated uncertainties (JCGM 100:2008, 6.3.3). */
const K = 2;

const wordsOf = ({ language = 'en' }: WordOptions) => REVIEW_WORDS[language];

/** One sentence about the milk: "2¾ fl oz (82 mL) taken in 19 min; milk ran fast twice, about a minute in all." */
export function summarySentence(feed: KeptFeed, trace: FeedTrace, options: WordOptions): string {
  const words = wordsOf(options);
  const amount = (ml: number) => amountText(ml, options.volumeUnit);
  const changed = trace.pours.filter(({ kind }) => kind === 'bottle').map(({ volumeMl }) => volumeMl);
  const sum = (some: readonly number[]): number => some.reduce((all, ml) => all + ml, 0);
  const spiltMl = feed.spiltMl + sum(changed.filter((ml) => ml < 0));
  const addedMl = feed.addedMl - sum(changed.filter((ml) => ml > 0));
  const poured = [
    spiltMl >= 1 && words.spilt(amount(spiltMl)),
    addedMl >= 1 && words.poured(amount(addedMl)),
    ...changed.map((ml) => words.bottleBack(amount(Math.abs(ml)), ml > 0)),
  ].filter((part) => part !== false);
  return `${[takenText(feed, trace, options), ...poured, fastText(trace, options)].filter(Boolean).join('; ')}.`;
}

function takenText(feed: KeptFeed, trace: FeedTrace, options: WordOptions): string {
  const words = wordsOf(options);
  const isOpen = feed.state === 'open';
  const time = words.inMinutes(Math.round(trace.lengthMin));
  if (isUnknown(trace)) return words.notKnown;
  return feed.intakeMl < 1
    ? words.littleTaken(time, isOpen)
    : words.taken(amountText(feed.intakeMl, options.volumeUnit), time, isOpen);
}

const isUnknown = (trace: FeedTrace): boolean => trace.intakeMl.every(({ amount }) => amount === null);

function fastText(trace: FeedTrace, options: WordOptions): string {
  const words = wordsOf(options);
  if (isUnknown(trace)) return '';
  const spans = fastStretches(trace);
  if (spans.length === 0) return words.noFast;
  const sum = (some: readonly Span[]): number => some.reduce((all, span) => all + secondsOf(span), 0);
  const allSec = sum(spans);
  return words.fast(spans.length, allSec, allSec > sum(trace.teatIn) / 2);
}

/** The reading of the bottle's marks as a sentence; null if not read. */
export function readingText(feed: KeptFeed, trace: FeedTrace, options: WordOptions): string | null {
  const words = wordsOf(options);
  const reading = feed.corrected?.reading;
  if (!reading) return null;
  return trace.readMl === null
    ? words.marksLeftOver(amountText(reading.leftMl, options.volumeUnit))
    : words.byMarks(amountText(trace.readMl, options.volumeUnit));
}

/** A volume for people; below an eighth of an ounce in mL only, since it would round to 0 oz. */
export function amountText(ml: number, volumeUnit: VolumeUnit): string {
  return flOzFromMl(ml) < 1 / 8 ? `${Math.round(ml)} mL` : volumeText(ml, volumeUnit);
}

/** A volume in the first unit alone, for narrow places: "¼ fl oz" or "8 mL". */
export function shortAmountText(ml: number, volumeUnit: VolumeUnit): string {
  return volumeUnit === 'fl-oz' && flOzFromMl(ml) >= 1 / 8
    ? `${quarterFlOzText(ml)} fl oz`
    : `${Math.round(ml)} mL`;
}

/** When the feed began, and whether it goes on: "Mon, Jan 5, 2026, 9:00 AM · not finished, live numbers". */
export function whenText(feed: KeptFeed, options: WordOptions): string {
  const words = wordsOf(options);
  const when = new Intl.DateTimeFormat(words.locale, {
    weekday: 'short',
    year: 'numeric',
    month: 'short',
    day: 'numeric',
    hour: 'numeric',
    minute: '2-digit',
    timeZone: options.timeZone,
  }).format(feed.corrected?.startedAtMs ?? feed.startedAtMs);
  const plain = when.replaceAll('\u202f', ' ').replaceAll('\u00a0', ' ');
  return feed.state === 'open' ? `${plain} · ${words.notFinished}` : plain;
}

/** Where the numbers come from. */
export function provenanceText(feed: KeptFeed, trace: FeedTrace, options: WordOptions): string {
  const words = wordsOf(options);
  const source = trace.source === 'refined' ? 'refined' : feed.state === 'open' ? 'open' : 'live';
  const within = [
    trace.milkSdMl !== null && words.milkWithin((K * trace.milkSdMl).toFixed(1)),
    trace.flowSdMedianMlPerMin !== null && words.flowWithin((K * trace.flowSdMedianMlPerMin).toFixed(1)),
  ].filter((part) => part !== false);
  const parts = [
    [words.source[source], ...within].join(', ') + (within.length > 0 ? ` (${words.deviations})` : ''),
    feed.simulated ? words.inSimulation : '',
    words.sleeve(feed.sleeveId),
    calibratedText(feed.calibration, options),
    feed.softwareVersion ? `Ebbline ${feed.softwareVersion}` : '',
  ];
  return `${parts.filter((part) => part !== '').join(' · ')}.`;
}

function calibratedText(calibration: unknown, options: WordOptions): string {
  const words = wordsOf(options);
  const calibratedAt = (calibration as { calibratedAt?: unknown } | null)?.calibratedAt;
  const atMs = typeof calibratedAt === 'string' ? Date.parse(calibratedAt) : Number.NaN;
  if (Number.isNaN(atMs)) return words.calibrated(null);
  const style = { dateStyle: 'medium', timeZone: options.timeZone } as const;
  return words.calibrated(new Intl.DateTimeFormat(words.locale, style).format(atMs));
}

/** Explains the band, and shading and hatching if present. */
export function readingNote(trace: FeedTrace, options: WordOptions): string {
  const words = wordsOf(options);
  const { lines, isCued, origin } = trace.pace;
  const inWords = lines.map(({ startMl, mlPerMin }) => `${startMl} mL + ${mlPerMin} mL/min`);
  const notes = [words.bandNote(isCued ? inWords : null, String(fastMlPerMin(trace)))];
  if (words.paceOf[origin] !== '') notes.push(words.paceOf[origin]);
  if (trace.flowSdMlPerMin) notes.push(words.spreadNote);
  if (trace.unknown.length > 0) notes.push(words.hatchNote);
  return notes.join(' ');
}

/** For screen readers: every cue with its time. */
export function describeFeed(feed: KeptFeed, trace: FeedTrace, options: WordOptions): string {
  const { language = 'en' } = options;
  const words = wordsOf(options);
  const cues = CUE_KINDS.flatMap((kind) => {
    const times = trace.cues.filter((cue) => cue.kind === kind).map(({ min }) => clockText(min));
    return times.length > 0
      ? [words.describe.cue(words.quoted(cueWords(kind, language)), times.join(', '))]
      : [];
  });
  const pours = trace.pours.map(({ min, kind, volumeMl }) =>
    words.pourAt(
      kind === 'bottle' ? (volumeMl > 0 ? 'more' : 'less') : kind,
      amountText(Math.abs(volumeMl), options.volumeUnit),
      clockText(min),
    ),
  );
  const gaps = trace.unknown.map(({ fromMin, toMin }) =>
    words.noEstimate(clockText(fromMin), clockText(toMin)),
  );
  const times = cues.length + pours.length + gaps.length > 0 ? [words.describe.times] : [];
  const provenance = provenanceText(feed, trace, options);
  return [words.describe.intro, ...times, ...cues, ...pours, ...gaps, provenance].join(' ');
}

/** Minutes and seconds since the first latch: "4:07". */
export function clockText(min: number): string {
  const seconds = Math.round(min * 60);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}
