/** How each index is computed, and its standard uncertainty. Pure. */

import { intervalsIn } from './bursts.ts';
import type { IndexKey } from './definitions.ts';
import type { IndexValue } from './indices.ts';
import { COVERAGE_FACTOR, mean, percentile, relative, withinOf } from './intervals.ts';
import type { Seen } from './seen.ts';

/**
 * What finding latches and sucks adds, as standard uncertainties. Ends and sucks by 84 simulated feeds of six kinds (`npm run bench
 * indices` prints how often the intervals cover the truth of others). Bursts are found without an error in most of those, so that
 * their figures stay assumed, and their intervals are wider than simulated feeds need.
 */
const DETECTION = {
  /** Each end of the feed, s. */
  endSec: 0.35,
  /** Share of the sucks that are missed or seen twice. */
  suckShare: 0.006,
  /** Bursts that are cut in two or run together, as a share of them. */
  burstShare: 0.03,
  /** Ends of one burst, s. */
  burstEndSec: 0.25,
  /** Percentiles of the flow, as a share of the stated standard deviation of a row. */
  flowShare: 0.6,
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

const taken = (seen: Seen): Measured => takenUntil(seen, seen.toSec);

const lengthSec = ({ fromSec, toSec }: Seen): Measured => ({
  value: toSec - fromSec,
  sd: Math.SQRT2 * DETECTION.endSec,
});

const sucks = (seen: Seen): Measured => ({
  value: seen.sucks.length,
  sd: Math.hypot(0.5, DETECTION.suckShare * seen.sucks.length),
});

const bursts = (seen: Seen): Measured => ({
  value: seen.bursts.length,
  sd: Math.hypot(0.3, DETECTION.burstShare * seen.bursts.length),
});

/** Time within bursts, s. Ends of bursts err one by one. */
const suckingSec = (seen: Seen): Measured => ({
  value: seen.bursts.reduce((sum, { fromSec, toSec }) => sum + toSec - fromSec, 0),
  sd: DETECTION.burstEndSec * Math.sqrt(2 * seen.bursts.length),
});

const quotient = (a: Measured, b: Measured, factor: number, ceiling?: number): IndexValue => {
  const value = (factor * a.value) / b.value;
  return withinOf(value, value * relative(a, b), 0, ceiling);
};

/** Of a mean over bursts: each errs by its ends, and a burst cut in two changes them all. */
function meanLength(lengths: readonly number[]): IndexValue {
  const value = mean(lengths);
  const ends = (Math.SQRT2 * DETECTION.burstEndSec) / Math.sqrt(lengths.length);
  return withinOf(value, Math.hypot(ends, DETECTION.burstShare * value));
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

function flowPercentile(seen: Seen, part: number): IndexValue {
  const sd = percentile(seen.flowSd.filter(Number.isFinite), 0.5);
  return withinOf(percentile(seen.flow, part), DETECTION.flowShare * sd);
}

/** Counted at the limit, and at the limit moved by what the flow may be off: the interval spans all three. */
function highFlowPeriods(seen: Seen): IndexValue {
  const sd = percentile(seen.flowSd.filter(Number.isFinite), 0.5);
  const counts = [0, -COVERAGE_FACTOR * sd, COVERAGE_FACTOR * sd].map((by) =>
    runsAbove(seen, HIGH_FLOW_ML_PER_MIN + by),
  );
  return { value: counts[0]!, low: Math.min(...counts), high: Math.max(...counts) };
}

function runsAbove(seen: Seen, limit: number): number {
  const step = (seen.toSec - seen.fromSec) / Math.max(1, seen.atSec.length - 1);
  const least = HIGH_FLOW_LEAST_SEC / step;
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
  return { value, sd: DETECTION.suckShare * value };
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
  burstLengthSec: (seen) => meanLength(seen.bursts.map(({ fromSec, toSec }) => toSec - fromSec)),
  pauseLengthSec: (seen) => meanLength(seen.pauses),
  volumePerSuckMl: (seen) => quotient(taken(seen), sucks(seen), 1),
  suckingSharePercent: (seen) => quotient(suckingSec(seen), lengthSec(seen), 100, 100),
  flowWhileSuckingMlPerMin: (seen) => quotient(taken(seen), suckingSec(seen), 60),
  flowMedianMlPerMin: (seen) => flowPercentile(seen, 0.5),
  flowP90MlPerMin: (seen) => flowPercentile(seen, 0.9),
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
  return { value, sd: DETECTION.suckShare * value };
};
