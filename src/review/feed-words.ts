import type { KeptFeed } from '../feed/feed.ts';
import { flOzFromMl, quarterFlOzText, type VolumeUnit, volumeText } from '../units.ts';
import { CUE_MARKS } from './cue-marks.ts';
import type { FeedTrace } from './feed-trace.ts';

/** How times of day are written. */
export interface WordOptions {
  /** Which unit stands first. */
  volumeUnit: VolumeUnit;
  /** IANA name; the host's own if absent. */
  timeZone?: string | undefined;
}

/** One sentence about the milk: "2¾ fl oz (82 mL) left the bottle in 19 min; 2 “Lower your hand” cues." */
export function summarySentence(feed: KeptFeed, trace: FeedTrace, { volumeUnit }: WordOptions): string {
  const poured = [
    feed.spiltMl >= 1 && `${amountText(feed.spiltMl, volumeUnit)} was spilt`,
    feed.addedMl >= 1 && `${amountText(feed.addedMl, volumeUnit)} was poured in`,
  ].filter((part) => part !== false);
  return `${[takenText(feed, trace, volumeUnit), ...poured, slowCuesText(trace)].join('; ')}.`;
}

function takenText(feed: KeptFeed, trace: FeedTrace, volumeUnit: VolumeUnit): string {
  const soFar = feed.state === 'open' ? ' so far,' : '';
  const minutes = Math.round(trace.lengthMin);
  const time = minutes < 1 ? 'in under a minute' : `in ${minutes} min`;
  if (trace.intakeMl.every(({ amount }) => amount === null))
    return `How much milk left the bottle is not known`;
  return feed.intakeMl < 1
    ? `Less than 1 mL left the bottle${soFar} ${time}`
    : `${amountText(feed.intakeMl, volumeUnit)} left the bottle${soFar} ${time}`;
}

function slowCuesText({ cues }: FeedTrace): string {
  const { words } = CUE_MARKS[0]!;
  const count = cues.filter(({ kind }) => kind === 'tilt-down').length;
  if (count === 0) return `no “${words}” cue`;
  return `${count} “${words}” ${count === 1 ? 'cue' : 'cues'}`;
}

/** A volume for people; below an eighth of an ounce, where no quarter is near, in mL alone. */
export function amountText(ml: number, volumeUnit: VolumeUnit): string {
  return flOzFromMl(ml) < 1 / 8 ? `${Math.round(ml)} mL` : volumeText(ml, volumeUnit);
}

/** A volume in the first unit alone, where space is short: "¼ fl oz" or "8 mL". */
export function shortAmountText(ml: number, volumeUnit: VolumeUnit): string {
  return volumeUnit === 'fl-oz' && flOzFromMl(ml) >= 1 / 8
    ? `${quarterFlOzText(ml)} fl oz`
    : `${Math.round(ml)} mL`;
}

/** When the feed began, and whether it goes on: "Mon, Jan 5, 2026, 9:00 AM · not finished, live numbers". */
export function whenText(feed: KeptFeed, { timeZone }: WordOptions): string {
  const when = new Intl.DateTimeFormat('en-US', {
    weekday: 'short',
    year: 'numeric',
    month: 'short',
    day: 'numeric',
    hour: 'numeric',
    minute: '2-digit',
    timeZone,
  }).format(feed.startedAtMs);
  const plain = when.replaceAll('\u202f', ' ');
  return feed.state === 'open' ? `${plain} · not finished, live numbers` : plain;
}

/** Where the numbers come from. */
export function provenanceText(feed: KeptFeed, trace: FeedTrace, options: WordOptions): string {
  const source =
    trace.source === 'refined'
      ? 'Refined after the feed'
      : feed.state === 'open'
        ? 'Live estimate; the feed is not finished'
        : 'Live estimate; the feed was not refined';
  const parts = [
    trace.milkSdMl === null ? source : `${source}, milk ±${trace.milkSdMl.toFixed(1)} mL (1 SD)`,
    feed.simulated ? 'in simulation' : '',
    `sleeve ${feed.sleeveId}`,
    calibratedText(feed.calibration, options),
    feed.softwareVersion ? `Ebbline ${feed.softwareVersion}` : '',
  ];
  return `${parts.filter((part) => part !== '').join(' · ')}.`;
}

function calibratedText(calibration: unknown, { timeZone }: WordOptions): string {
  const calibratedAt = (calibration as { calibratedAt?: unknown } | null)?.calibratedAt;
  const atMs = typeof calibratedAt === 'string' ? Date.parse(calibratedAt) : Number.NaN;
  if (Number.isNaN(atMs)) return 'calibration undated';
  const day = new Intl.DateTimeFormat('en-US', { dateStyle: 'medium', timeZone }).format(atMs);
  return `calibrated ${day}`;
}

/** What the band is, and what it is not; and what the hatching is, where there is any. */
export function readingNote(trace: FeedTrace): string {
  return trace.unknown.length === 0 ? BAND_NOTE : `${BAND_NOTE} Hatched: no estimate.`;
}

const BAND_NOTE =
  'Band: pace of a breast-like feed. Dashed: where “Lower your hand” comes if milk flows fast from the start (18 mL + 8 mL/min, or 6 mL + 14 mL/min); ' +
  'after a slow start it comes lower. Dotted: the lower of two means of small studies of newborns, two breasts on day 6 (Lucas 1980, 1981) and whole sessions at one month (Kent 2013). ' +
  'Babies differ widely: it is no target.';

/** For screen readers: every cue with its time. */
export function describeFeed(feed: KeptFeed, trace: FeedTrace, options: WordOptions): string {
  const cues = CUE_MARKS.flatMap(({ kind, words }) => {
    const times = trace.cues.filter((cue) => cue.kind === kind).map(({ min }) => clockText(min));
    return times.length > 0 ? [`“${words}” at ${times.join(', ')}.`] : [];
  });
  const pours = trace.pours.map(
    ({ min, kind, volumeMl }) =>
      `${amountText(volumeMl, options.volumeUnit)} ${kind === 'spill' ? 'spilt' : 'poured in'} at ${clockText(min)}.`,
  );
  const gaps = trace.unknown.map(
    ({ fromMin, toMin }) => `No estimate from ${clockText(fromMin)} to ${clockText(toMin)}.`,
  );
  const intro = 'Graph of milk taken, flow, suck bursts and cues over minutes since the first latch.';
  const times = cues.length + pours.length + gaps.length > 0 ? ['Times in minutes and seconds:'] : [];
  return [intro, ...times, ...cues, ...pours, ...gaps, provenanceText(feed, trace, options)].join(' ');
}

function clockText(min: number): string {
  const seconds = Math.round(min * 60);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}
