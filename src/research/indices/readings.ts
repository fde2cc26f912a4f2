/** The ways in which the detected sucks of a feed may be read; the interval of an index spans all of them. Pure. */
import { BURST_GAP_SEC } from '../../base/suck-runs.ts';
import { type Burst, burstsOf, intervalsIn, pausesOf } from './bursts.ts';
import { percentile } from './intervals.ts';

export interface SuckReading {
  sucks: readonly number[];
  bursts: Burst[];
  pauses: number[];
  /** Intervals between sucks of one burst, s. */
  intervals: number[];
}

/** A time between two sucks of a burst is long when it is this many times the median: a suck may be missing, or one of its ends may be none. */
const LONG_SHARE = 1.6;
/** Error of the time between two sucks, s (two standard deviations): a time this close to the limit may end a burst or not. */
const GAP_ERROR_SEC = 0.08;

/** A mouth is confirmed so much later than its first suck at most, s. */
const LATCH_SEC = 0.5;

export interface Stretch {
  fromSec: number;
  toSec: number;
}

/** What is known of a feed besides its sucks. */
export interface Around {
  /** Stretches in which nothing was measured. */
  blind: readonly Stretch[];
  /** When the nipple went in. */
  latchSec: readonly number[];
  /** Whether the nipple was in all the time. */
  isIn(fromSec: number, toSec: number): boolean;
}

/** @param sucks starts of the detected sucks, s, rising @returns first the sucks as they were detected */
export function readingsOf(sucks: readonly number[], { blind, latchSec, isIn }: Around): SuckReading[] {
  const read = (some: readonly number[], gapSec = BURST_GAP_SEC): SuckReading => {
    const bursts = burstsOf(some, gapSec);
    return { sucks: some, bursts, pauses: pausesOf(bursts, isIn), intervals: intervalsIn(some, gapSec) };
  };
  const told = read(sucks);
  if (told.intervals.length === 0) return [told];
  const usualSec = percentile(told.intervals, 0.5);
  const longSec = Math.min(BURST_GAP_SEC, LONG_SHARE * usualSec);
  const longs = told.intervals.filter((sec) => sec >= longSec).length;
  const sure = withoutLone(sucks, longSec);
  return [
    told,
    read(sucks, BURST_GAP_SEC - GAP_ERROR_SEC),
    read(sucks, BURST_GAP_SEC + GAP_ERROR_SEC),
    read(sure),
    read(withoutSome(sure, 1 + longs)),
    read(withoutSome(sure, longs), longSec),
    read(withMissing(sucks, longSec)),
    read(
      together(
        sucks,
        latchSec.flatMap((sec) => hiddenBy(sec, sucks, usualSec)),
      ),
    ),
    read(
      together(
        sucks,
        blind.flatMap((one) => filled(one, usualSec)),
      ),
    ),
  ];
}

const together = (some: readonly number[], others: readonly number[]): number[] =>
  [...some, ...others].sort((a, b) => a - b);

/** Without the sucks that have no other near: such a one may have been a touch of the collar, or a jaw that chews. */
const withoutLone = (sucks: readonly number[], longSec: number): number[] =>
  sucks.filter(
    (sec, i) =>
      sec - (sucks[i - 1] ?? Number.NEGATIVE_INFINITY) < longSec ||
      (sucks[i + 1] ?? Number.POSITIVE_INFINITY) - sec < longSec,
  );

/** Without the first suck of some bursts: movements just before a burst leave no trace when they are counted. */
function withoutSome(sucks: readonly number[], some: number): number[] {
  const firsts = burstsOf(sucks)
    .slice(1, 1 + some)
    .map(({ fromSec }) => fromSec);
  return sucks.filter((sec) => !firsts.includes(sec));
}

/** With a suck in the middle of each long time within a burst. */
const withMissing = (sucks: readonly number[], longSec: number): number[] =>
  sucks.flatMap((sec, i) => {
    const next = sucks[i + 1] ?? Number.POSITIVE_INFINITY;
    return next - sec >= longSec && next - sec < BURST_GAP_SEC ? [sec, (sec + next) / 2] : [sec];
  });

/** Sucks at their usual distance throughout a stretch. */
const filled = ({ fromSec, toSec }: Stretch, everySec: number): number[] =>
  Array.from({ length: Math.floor((toSec - fromSec) / everySec) }, (_, i) => fromSec + (i + 0.5) * everySec);

/** The suck with which a mouth latches may be hidden by the latch. */
function hiddenBy(latchSec: number, sucks: readonly number[], usualSec: number): number[] {
  const first = sucks.find((sec) => sec > latchSec - LATCH_SEC);
  return first !== undefined && first - latchSec < usualSec ? [first - usualSec] : [];
}
