/** How each index is computed, and its standard uncertainty. Pure. */

import { intervalsIn } from './bursts.ts';
import type { IndexKey } from './definitions.ts';
import type { IndexValue } from './indices.ts';
import { COVERAGE_FACTOR, mean, percentile, relative, withinOf } from './intervals.ts';
import type { Seen } from './seen.ts';

/**
 * What finding latches, sucks and bursts adds, as standard uncertainties: by 72 simulated feeds of six kinds, of eight minutes each
 * (`npm run bench indices` prints how often the intervals cover the truth of others). Counts err by whole ones, so that theirs cannot
 * cover just 95 %: they are the narrowest that cover no less.
 */
const DETECTION = {
  /** Each end of the feed, s. */
  endSec: 0.35,
  /** A suck, or a burst, in so many is missed or seen twice. */
  suckMissed: 0.0015,
  burstMissed: 0.003,
  /** Mean time between sucks, as a share. */
  intervalShare: 0.0048,
  /** Ends of one burst, s, beside what all ends are late alike. */
  burstEndSec: 0.05,
  /** A pause that is taken for sucking, or the other way around, s. */
  lostPauseSec: 3,
  /** Of what was spilt: milk that may have been drunk. */
  spiltShare: 0.1,
  /** Percentiles of the flow, as a share of the stated standard deviation of a row: single rows err more, and their errors wear off. */
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

/** Milk taken until a moment. Both weighings err, the first one for all later moments alike. */
function takenUntil({ atSec, intakeMl, milkSdMl }: Seen, untilSec: number): Measured {
  let i = atSec.findLastIndex((sec) => sec <= untilSec);
  if (i < 0) i = 0;
  const firstSd = milkSdMl.find((sd) => sd !== null) ?? 0;
  const sd = milkSdMl.slice(i).find((one) => one !== null) ?? milkSdMl.findLast((one) => one !== null) ?? 0;
  return { value: intakeMl[i]! - intakeMl[0]!, sd: Math.hypot(firstSd, sd) };
}

/** All that was taken; milk that was spilt was told apart by the weight alone. */
function taken(seen: Seen): Measured {
  const { value, sd } = takenUntil(seen, seen.toSec);
  return { value, sd: Math.hypot(sd, DETECTION.spiltShare * seen.input.refined.totals.spiltMl) };
}

const lengthSec = ({ fromSec, toSec }: Seen): Measured => ({
  value: toSec - fromSec,
  sd: Math.SQRT2 * DETECTION.endSec,
});

/** Where one is missed in more than one feed of twenty, one more or less belongs into the interval. */
const ONE_MORE_SD = 1.02 / COVERAGE_FACTOR;

/** Of a count in which so many are missed or seen twice on average: as rare events are (Poisson). */
const countSd = (missed: number): number => Math.max(Math.sqrt(missed), missed > 0.05 ? ONE_MORE_SD : 0);

const sucks = (seen: Seen): Measured => ({
  value: seen.sucks.length,
  sd: countSd(DETECTION.suckMissed * seen.sucks.length),
});

const bursts = (seen: Seen): Measured => ({
  value: seen.bursts.length,
  sd: countSd(DETECTION.burstMissed * seen.bursts.length),
});

/** Time within bursts, s. Ends of bursts err one by one. */
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
 * Of a mean over bursts or pauses: each errs by its ends, and one that is lost or cut in two changes the mean.
 * @param lostShare of itself by which a lost one differs from the mean
 */
function meanLength(seen: Seen, lengths: readonly number[], lostShare: number): IndexValue {
  const value = mean(lengths);
  const ends = (Math.SQRT2 * DETECTION.burstEndSec) / Math.sqrt(lengths.length);
  return withinOf(value, Math.hypot(ends, (lostShare * value * bursts(seen).sd) / seen.bursts.length));
}

/** Time until a share of the milk was taken, min. Its ends are the times at which the share is passed if the volumes err by their interval. */
function timeTo(seen: Seen, share: number): IndexValue {
  const all = taken(seen);
  const secAt = (ml: number): number =>
    seen.atSec[seen.intakeMl.findIndex((one) => one - seen.intakeMl[0]! >= ml)] ?? seen.toSec;
  const wantedMl = share * all.value;
  const atSec = secAt(wantedMl);
  const volumeSd = Math.hypot(takenUntil(seen, atSec).sd * (1 - share), share * all.sd);
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
 * Counted at the limit. While the flow is nearer to the limit than it is known, each ten seconds may hold a dip or a rise that nobody
 * saw, and with it one period more or less.
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
