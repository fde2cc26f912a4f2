/** How each index is computed, and its standard uncertainty. Pure. */

import { intervalsIn } from './bursts.ts';
import type { IndexKey } from './definitions.ts';
import type { IndexValue } from './indices.ts';
import { COVERAGE_FACTOR, mean, percentile, relative, withinOf } from './intervals.ts';
import type { Seen } from './seen.ts';

/**
 * Standard uncertainties by the detection of latches, sucks and bursts: from 72 simulated feeds of six kinds, of eight minutes each;
 * sucks and milk within a feed from 51 of up to twenty minutes, in which more sucks are counted than there were, by up to one in a hundred
 * (`npm run bench indices` prints how often the intervals cover the truth of others). Errors of counts are whole numbers, so that their intervals cannot
 * cover exactly 95 %: they are the narrowest that cover at least that.
 */
const DETECTION = {
  /** Each end of the feed, s. */
  endSec: 0.35,
  /** Share of sucks, and of bursts, that are missed or counted twice. */
  suckMissed: 0.009,
  burstMissed: 0.003,
  /** Mean time between sucks, as a share. */
  intervalShare: 0.0048,
  /** Ends of one burst, s, besides the delay common to all ends. */
  burstEndSec: 0.05,
  /** A pause read as sucking, or the reverse, s. */
  lostPauseSec: 3,
  /** Share of spilt milk that may have been drunk. */
  spiltShare: 0.1,
  /** Milk taken until a moment within the feed, as a share of all of it: besides what both weighings are uncertain by. */
  withinShare: 0.01,
  /** Percentiles of the flow, as a share of the stated standard deviation of a row: single rows have larger errors, which average out. */
  medianShare: 0.2,
  p90Share: 0.32,
} as const;

const HIGH_FLOW_ML_PER_MIN = 6;
const HIGH_FLOW_LEAST_SEC = 10;
const FIRST_MINUTES_SEC = 300;

interface Measured {
  value: number;
  sd: number;
}

/** Milk taken until a moment. Both weighings have errors; that of the first is common to all later moments. */
function takenUntil({ atSec, intakeMl, milkSdMl }: Seen, untilSec: number): Measured {
  let i = atSec.findLastIndex((sec) => sec <= untilSec);
  if (i < 0) i = 0;
  const firstSd = milkSdMl.find((sd) => sd !== null) ?? 0;
  const sd = milkSdMl.slice(i).find((one) => one !== null) ?? milkSdMl.findLast((one) => one !== null) ?? 0;
  return { value: intakeMl[i]! - intakeMl[0]!, sd: Math.hypot(firstSd, sd) };
}

/** Total milk taken; spilt milk is distinguished by the weight alone. */
function taken(seen: Seen): Measured {
  const { value, sd } = takenUntil(seen, seen.toSec);
  return { value, sd: Math.hypot(sd, DETECTION.spiltShare * seen.input.refined.totals.spiltMl) };
}

const lengthSec = ({ fromSec, toSec }: Seen): Measured => ({
  value: toSec - fromSec,
  sd: Math.SQRT2 * DETECTION.endSec,
});

/** If one is missed in more than one feed in twenty, the interval must include one more and one less. */
const ONE_MORE_SD = 1.02 / COVERAGE_FACTOR;

/** Standard uncertainty of a count with this mean number of errors (rare events, Poisson). */
const countSd = (missed: number): number => Math.max(Math.sqrt(missed), missed > 0.05 ? ONE_MORE_SD : 0);

const sucks = (seen: Seen): Measured => ({
  value: seen.sucks.length,
  sd: countSd(DETECTION.suckMissed * seen.sucks.length),
});

const bursts = (seen: Seen): Measured => ({
  value: seen.bursts.length,
  sd: countSd(DETECTION.burstMissed * seen.bursts.length),
});

/** Time within bursts, s. Errors of the ends of bursts are independent. */
const suckingSec = (seen: Seen): Measured => ({
  value: seen.bursts.reduce((sum, { fromSec, toSec }) => sum + toSec - fromSec, 0),
  sd: Math.hypot(
    DETECTION.burstEndSec * Math.sqrt(2 * seen.bursts.length),
    DETECTION.lostPauseSec * bursts(seen).sd,
  ),
});

const quotient = (a: Measured, b: Measured, factor: number, ceiling?: number): IndexValue => {
  const value = (factor * a.value) / b.value;
  return withinOf(value, value * relative(a, b), 0, ceiling);
};

/**
 * A mean over bursts or pauses: errors of the ends, and of bursts or pauses that are lost or split.
 * @param lostShare relative difference of a lost one from the mean
 */
function meanLength(seen: Seen, lengths: readonly number[], lostShare: number): IndexValue {
  const value = mean(lengths);
  const ends = (Math.SQRT2 * DETECTION.burstEndSec) / Math.sqrt(lengths.length);
  return withinOf(value, Math.hypot(ends, (lostShare * value * bursts(seen).sd) / seen.bursts.length));
}

/** Time until a share of the milk was taken, min. The interval follows from the times at which the share is reached if the volumes change by their uncertainty. */
function timeTo(seen: Seen, share: number): IndexValue {
  const all = taken(seen);
  const secAt = (ml: number): number =>
    seen.atSec[seen.intakeMl.findIndex((one) => one - seen.intakeMl[0]! >= ml)] ?? seen.toSec;
  const wantedMl = share * all.value;
  const atSec = secAt(wantedMl);
  const volumeSd = Math.hypot(
    takenUntil(seen, atSec).sd * (1 - share),
    share * all.sd,
    DETECTION.withinShare * all.value,
  );
  const halfMl = COVERAGE_FACTOR * volumeSd;
  const endSec = COVERAGE_FACTOR * DETECTION.endSec;
  return {
    value: (atSec - seen.fromSec) / 60,
    low: Math.max(0, secAt(Math.max(0, wantedMl - halfMl)) - endSec - seen.fromSec) / 60,
    high: Math.min(seen.toSec, secAt(wantedMl + halfMl) + endSec) / 60 - seen.fromSec / 60,
  };
}

function flowPercentile(seen: Seen, part: number, share: number): IndexValue {
  const sd = percentile(seen.flowSd.filter(Number.isFinite), 0.5);
  return withinOf(percentile(seen.flow, part), share * sd);
}

/**
 * Periods above the limit. While the flow is closer to the limit than its uncertainty, each ten seconds may contain an unseen change
 * and so one period more or less.
 */
function highFlowPeriods(seen: Seen): IndexValue {
  const value = runsAbove(seen, HIGH_FLOW_ML_PER_MIN);
  const near = seen.flow.filter(
    (flow, i) => Math.abs(flow - HIGH_FLOW_ML_PER_MIN) < COVERAGE_FACTOR * (seen.flowSd[i] ?? 0),
  );
  const open = Math.floor((near.length * rowSec(seen)) / HIGH_FLOW_LEAST_SEC);
  return { value, low: Math.max(0, value - open), high: value + open };
}

const rowSec = (seen: Seen): number => (seen.toSec - seen.fromSec) / Math.max(1, seen.atSec.length - 1);

function runsAbove(seen: Seen, limit: number): number {
  const least = HIGH_FLOW_LEAST_SEC / rowSec(seen);
  let runs = 0;
  let length = 0;
  for (const flow of seen.flow) {
    length = flow >= limit ? length + 1 : 0;
    if (length === Math.ceil(least)) runs++;
  }
  return runs;
}

const intervalSec = (seen: Seen): Measured => {
  const value = mean(intervalsIn(seen.sucks));
  return { value, sd: DETECTION.intervalShare * value };
};

const portion = ({ input }: Seen): Measured => ({ value: input.portionMl!, sd: 0 });

export const VALUE_OF: Record<IndexKey, (seen: Seen) => IndexValue> = {
  intakeMl: (seen) => withinOf(taken(seen).value, taken(seen).sd),
  durationMin: (seen) => withinOf(lengthSec(seen).value / 60, lengthSec(seen).sd / 60),
  transferRateMlPerMin: (seen) => quotient(taken(seen), lengthSec(seen), 60),
  proficiencyPercent: (seen) =>
    quotient(takenUntil(seen, seen.fromSec + FIRST_MINUTES_SEC), portion(seen), 100),
  overallTransferPercent: (seen) => quotient(taken(seen), portion(seen), 100),
  suckCount: (seen) => withinOf(sucks(seen).value, sucks(seen).sd),
  suckRatePerMin: (seen) => quotient({ value: 1, sd: 0 }, intervalSec(seen), 60),
  burstCount: (seen) => withinOf(bursts(seen).value, bursts(seen).sd),
  sucksPerBurst: (seen) => quotient(sucksInBursts(seen), bursts(seen), 1),
  burstLengthSec: (seen) =>
    meanLength(
      seen,
      seen.bursts.map(({ fromSec, toSec }) => toSec - fromSec),
      1.2,
    ),
  pauseLengthSec: (seen) => meanLength(seen, seen.pauses, 0.5),
  volumePerSuckMl: (seen) => quotient(taken(seen), sucks(seen), 1),
  suckingSharePercent: (seen) => quotient(suckingSec(seen), lengthSec(seen), 100, 100),
  flowWhileSuckingMlPerMin: (seen) => quotient(taken(seen), suckingSec(seen), 60),
  flowMedianMlPerMin: (seen) => flowPercentile(seen, 0.5, DETECTION.medianShare),
  flowP90MlPerMin: (seen) => flowPercentile(seen, 0.9, DETECTION.p90Share),
  timeToHalfMin: (seen) => timeTo(seen, 0.5),
  timeTo80PercentMin: (seen) => timeTo(seen, 0.8),
  highFlowPeriods,
  leakageMl: (seen) => {
    const { spiltMl } = seen.input.refined.totals;
    return withinOf(spiltMl, spiltMl === 0 ? 0.5 : taken(seen).sd);
  },
};

const sucksInBursts = (seen: Seen): Measured => {
  const value = seen.bursts.reduce((sum, burst) => sum + burst.sucks, 0);
  return { value, sd: sucks(seen).sd };
};
