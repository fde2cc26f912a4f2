/** How each index is computed, and its standard uncertainty. Pure. */

import type { IndexKey } from './definitions.ts';
import type { IndexValue } from './indices.ts';
import { COVERAGE_FACTOR, percentile, relative, spanning, withinOf } from './intervals.ts';
import type { SuckReading } from './readings.ts';
import type { Seen } from './seen.ts';

/**
 * Errors of the detection of latches and bursts, from 128 simulated feeds of six kinds and up to twenty minutes; in 56 of them babies
 * were weak, had other habits or little appetite, or the cells were noisy (`npm run bench indices` prints how often the intervals cover
 * the truth of others).
 */
const DETECTION = {
  /** A feed is seen too long, since a mouth that lets go is confirmed later than one that latches, s; and the deviation of that. */
  endLateSec: 0.65,
  endSec: 0.2,
  /** A burst is seen too long, since its first suck rises from a calm pull, s; the deviations of that, of one feed and of one end. */
  burstLateSec: 0.011,
  burstSec: 0.006,
  burstEndSec: 0.03,
  /** Share of spilt milk that may have been drunk. */
  spiltShare: 0.1,
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
  /** By how much it is too large on average; none: 0. */
  over?: number;
}

const firstSd = ({ milkSdMl }: Seen): number => milkSdMl.find((sd) => sd !== null) ?? 0;

const rowAt = ({ atSec }: Seen, sec: number): number =>
  Math.max(
    0,
    atSec.findLastIndex((one) => one <= sec),
  );

/** Standard uncertainty of the milk in the bottle at a moment, or as soon as it is known again. */
function sdAt(seen: Seen, sec: number): number {
  const later = seen.milkSdMl.slice(rowAt(seen, sec));
  return later.find((one) => one !== null) ?? seen.milkSdMl.findLast((one) => one !== null) ?? 0;
}

/** Milk taken until a moment. Both weighings have errors; that of the first is common to all later moments. */
const takenUntil = (seen: Seen, sec: number): Measured => ({
  value: seen.intakeMl[rowAt(seen, sec)]! - seen.intakeMl[0]!,
  sd: Math.hypot(firstSd(seen), sdAt(seen, sec)),
});

/** Total milk taken; spilt milk is distinguished by the weight alone. */
function taken(seen: Seen): Measured {
  const { value, sd } = takenUntil(seen, seen.toSec);
  return { value, sd: Math.hypot(sd, DETECTION.spiltShare * seen.input.refined.totals.spiltMl) };
}

const lengthSec = ({ fromSec, toSec, endSeen }: Seen): Measured => ({
  value: toSec - fromSec,
  sd: DETECTION.endSec,
  over: endSeen ? DETECTION.endLateSec : 0,
});

const sum = (values: readonly number[]): number => values.reduce((all, one) => all + one, 0);

const inBursts = ({ bursts }: SuckReading): number => sum(bursts.map(({ sucks }) => sucks));

/** Standard uncertainty of so many bursts or pauses together, s: by their ends alone. */
const endsSd = (count: number): number =>
  Math.hypot(DETECTION.burstEndSec * Math.sqrt(2 * count), DETECTION.burstSec * count);

/** Time within bursts, s. */
const suckingSec = ({ bursts }: SuckReading): Measured => ({
  value: sum(bursts.map(({ fromSec, toSec }) => toSec - fromSec)),
  sd: endsSd(bursts.length),
  over: DETECTION.burstLateSec * bursts.length,
});

/** Time in pauses, s: what bursts are too long pauses are too short. */
const pausingSec = ({ pauses }: SuckReading): Measured => ({
  value: sum(pauses),
  sd: endsSd(pauses.length),
  over: -DETECTION.burstLateSec * pauses.length,
});

const exactly = (value: number): Measured => ({ value, sd: 0 });

function quotient(a: Measured, b: Measured, factor: number): IndexValue {
  const value = (factor * a.value) / b.value;
  const expected = (factor * (a.value - (a.over ?? 0))) / (b.value - (b.over ?? 0));
  return withinOf(value, value * relative(a, b), expected);
}

/** An index of the sucks: its interval spans all readings of them. */
const bySucks =
  (index: (reading: SuckReading, seen: Seen) => IndexValue) =>
  (seen: Seen): IndexValue => {
    const [first, ...others] = seen.readings.map((reading) => index(reading, seen));
    return spanning([first!, ...others]);
  };

/** Time until a share of the milk was taken, min. The interval follows from the times at which the share is reached if the volumes change by their uncertainty. */
function timeTo(seen: Seen, share: number): IndexValue {
  const all = taken(seen);
  const secAt = (ml: number): number =>
    seen.atSec[seen.intakeMl.findIndex((one) => one - seen.intakeMl[0]! >= ml)] ?? seen.toSec;
  const wantedMl = share * all.value;
  const atSec = secAt(wantedMl);
  const first = firstSd(seen);
  // intake(t) - share * V = (1 - share) * first milk - milk(t) + share * last milk.
  const volumeSd = Math.hypot((1 - share) * first, sdAt(seen, atSec), share * sdAt(seen, seen.toSec));
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

export const VALUE_OF: Record<IndexKey, (seen: Seen) => IndexValue> = {
  intakeMl: (seen) => withinOf(taken(seen).value, taken(seen).sd),
  durationMin: (seen) => quotient(lengthSec(seen), exactly(60), 1),
  transferRateMlPerMin: (seen) => quotient(taken(seen), lengthSec(seen), 60),
  proficiencyPercent: (seen) =>
    quotient(takenUntil(seen, seen.fromSec + FIRST_MINUTES_SEC), exactly(seen.input.portionMl!), 100),
  overallTransferPercent: (seen) => quotient(taken(seen), exactly(seen.input.portionMl!), 100),
  suckCount: bySucks(({ sucks }) => withinOf(sucks.length, 0)),
  suckRatePerMin: bySucks((reading) => quotient(exactly(reading.intervals.length), suckingSec(reading), 60)),
  burstCount: bySucks(({ bursts }) => withinOf(bursts.length, 0)),
  sucksPerBurst: bySucks((reading) => withinOf(inBursts(reading) / reading.bursts.length, 0)),
  burstLengthSec: bySucks((reading) => quotient(suckingSec(reading), exactly(reading.bursts.length), 1)),
  pauseLengthSec: bySucks((reading) => quotient(pausingSec(reading), exactly(reading.pauses.length), 1)),
  volumePerSuckMl: bySucks(({ sucks }, seen) => quotient(taken(seen), exactly(sucks.length), 1)),
  suckingSharePercent: bySucks((reading, seen) => {
    const share = quotient(suckingSec(reading), lengthSec(seen), 100);
    return { ...share, high: Math.min(100, share.high) };
  }),
  flowWhileSuckingMlPerMin: bySucks((reading, seen) => quotient(taken(seen), suckingSec(reading), 60)),
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
