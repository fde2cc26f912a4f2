/** The numbers under a graph, shown when a person points at it: exact, in columns, every second. Pure. */
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { CueKind } from '../../pacing/cues/cue.ts';
import { type FeedTrace, feedTrace, type Series } from '../graph/feed-trace.ts';

/** Columns of equal length, one entry a step from the first latch on; null where unknown. */
export interface FeedValues {
  stepSec: number;
  intakeMl: (number | null)[];
  flowMlPerMin: (number | null)[];
  /** k = 2; null if not stored. */
  flowWithinMlPerMin: (number | null)[];
  tiltDeg: (number | null)[];
  teatIn: boolean[];
  suckCount: (number | null)[];
  cues: { atSec: number; kind: CueKind }[];
}

const STEP_SEC = 1;
const MOST_STEPS = 12 * 3600;

export function feedValues(feed: KeptFeed): FeedValues {
  const trace = feedTrace(feed);
  const steps = Math.min(MOST_STEPS, Math.max(0, Math.floor(trace.lengthMin * 60)) + 1);
  const within = trace.flowSdMlPerMin?.map(({ min, amount }) => ({ min, amount: amount && 2 * amount }));
  const empty = Array.from({ length: steps }, () => null);
  return {
    stepSec: STEP_SEC,
    intakeMl: sampled(trace.intakeMl, trace, steps, 2),
    flowMlPerMin: sampled(trace.flowMlPerMin, trace, steps, 1),
    flowWithinMlPerMin: within ? sampled(within, trace, steps, 1) : empty,
    tiltDeg: sampled(trace.tiltDeg, trace, steps, 0),
    teatIn: Array.from({ length: steps }, (_, i) => isIn(trace, (i * STEP_SEC) / 60)),
    suckCount: sucksSoFar(trace, steps) ?? empty,
    cues: trace.cues.map(({ min, kind }) => ({ atSec: Math.round(min * 60), kind })),
  };
}

const isIn = ({ teatIn }: FeedTrace, min: number): boolean =>
  teatIn.some(({ fromMin, toMin }) => min >= fromMin && min < toMin);

function sampled(points: Series, { unknown }: FeedTrace, steps: number, digits: number): (number | null)[] {
  let next = 0;
  let latest: number | null = null;
  return Array.from({ length: steps }, (_, i) => {
    const min = (i * STEP_SEC) / 60;
    while (next < points.length && points[next]!.min <= min + 1e-9) latest = points[next++]!.amount;
    const isUnknown = unknown.some(({ fromMin, toMin }) => min > fromMin && min < toMin);
    return latest === null || isUnknown ? null : Number(latest.toFixed(digits));
  });
}

function sucksSoFar({ suckAtMin }: FeedTrace, steps: number): number[] | null {
  if (!suckAtMin) return null;
  let count = 0;
  return Array.from({ length: steps }, (_, i) => {
    while (count < suckAtMin.length && suckAtMin[count]! <= (i * STEP_SEC) / 60) count++;
    return count;
  });
}
