/** The indices of one feed, each with its interval of 95 %, or with the reason why it is missing. Pure. */
import { recordOf } from '../../base/typed.ts';
import type { RefinedFeed } from '../../sensing/index.ts';
import { INDEX_KEYS, INDICES, type IndexKey, type Need } from './definitions.ts';
import { type Seen, seenOf } from './seen.ts';
import { VALUE_OF } from './values.ts';

export interface IndexValue {
  value: number;
  /** Interval of 95 % of the measurement, in the unit of the index. */
  low: number;
  high: number;
}

export type MissingReason =
  | 'no-portion'
  | 'not-weighed'
  | 'sucks-uncertain'
  | 'no-sucks'
  | 'too-few-bursts'
  | 'shorter-than-five-minutes'
  | 'flow-degraded'
  /** An end of the interval is more than a tenth from the value: it would be a guess. */
  | 'too-uncertain';

export type Index = IndexValue | { missing: MissingReason };
export type FeedIndices = Record<IndexKey, Index>;

export const isGiven = (index: Index): index is IndexValue => 'value' in index;

export interface IndexInput {
  refined: RefinedFeed;
  /** Planned portion, mL; null where none was entered. */
  portionMl: number | null;
  /** For a considerable part of the feed the sensor could not distinguish sucks from chewing, or detected hardly any. */
  sucksUncertain: boolean;
}

const FIRST_MINUTES_SEC = 300;
/** With fewer bursts than this no mean is given. */
const LEAST_BURSTS = 4;
const LEAST_PAUSES = 3;
/** With fewer good rows than this percentiles of the flow would not be valid. */
const GOOD_SHARE = 0.8;

const UNMET: Record<Need, (seen: Seen) => MissingReason | null> = {
  intake: (seen) => (seen.milkSdMl.some((sd) => sd !== null) ? null : 'not-weighed'),
  portion: ({ input }) => (input.portionMl === null ? 'no-portion' : null),
  sucks: ({ input, readings }) => {
    if (input.sucksUncertain) return 'sucks-uncertain';
    return readings[0]!.sucks.length === 0 ? 'no-sucks' : null;
  },
  bursts: ({ readings }) =>
    readings.some(({ bursts }) => bursts.length < LEAST_BURSTS) ? 'too-few-bursts' : null,
  pauses: ({ readings }) =>
    readings.some(({ pauses }) => pauses.length < LEAST_PAUSES) ? 'too-few-bursts' : null,
  'five-minutes': ({ fromSec, toSec }) =>
    toSec - fromSec < FIRST_MINUTES_SEC ? 'shorter-than-five-minutes' : null,
  'good-flow': ({ goodShare }) => (goodShare < GOOD_SHARE ? 'flow-degraded' : null),
};

/** Largest error for an index to be given, relative to the true value, which may lie anywhere in the interval. */
const WORST_SHARE = 0.1;
/** Counts and other values near 0 are also given if both ends of the interval, in their unit, are at most this far from the value. */
const ALWAYS_GIVEN_HALF: Partial<Record<IndexKey, number>> = {
  suckCount: 1.2,
  burstCount: 1.2,
  highFlowPeriods: 1,
  leakageMl: 1,
};

function preciseEnough(key: IndexKey, index: IndexValue): Index {
  const isNear = (end: number): boolean =>
    Math.abs(end - index.value) <= Math.max(ALWAYS_GIVEN_HALF[key] ?? 0, WORST_SHARE * Math.abs(end));
  return isNear(index.low) && isNear(index.high) ? index : { missing: 'too-uncertain' };
}

export function indicesOf(input: IndexInput): FeedIndices {
  const seen = seenOf(input);
  const one = (key: IndexKey): Index => {
    if (!seen) return { missing: 'not-weighed' };
    const reasons = (INDICES[key].needs as readonly Need[]).map((need) => UNMET[need](seen));
    const missing = reasons.find((reason) => reason !== null);
    return missing ? { missing } : preciseEnough(key, VALUE_OF[key](seen));
  };
  return recordOf(INDEX_KEYS, (key) => one(key));
}
