/** A trace minute by minute: the graph's numbers as a table. Pure. */
import type { ShownCue } from '../../pacing/cues/cue.ts';
import type { FeedTrace, Series } from '../graph/feed-trace.ts';

/** One minute of a feed, counted from the first latch; null where unknown. The last one may be shorter. */
export interface MinuteOfFeed {
  /** 1 for the first. */
  minute: number;
  takenMl: number | null;
  takenSoFarMl: number | null;
  mostFlowMlPerMin: number | null;
  suckCount: number | null;
  /** Median with the teat in the mouth, degrees from upright; null if it was out all the time. */
  tiltDeg: number | null;
  cues: ShownCue[];
}

/** Limit of twelve hours, so that a wrong clock does not give an endless table. */
const MOST_MINUTES = 720;

/** @returns one row for each minute begun; empty for a feed without a single row */
export function minuteRows(trace: FeedTrace): MinuteOfFeed[] {
  if (trace.intakeMl.length === 0) return [];
  const count = Math.min(MOST_MINUTES, Math.ceil(trace.lengthMin - 1e-9));
  const startMl = trace.intakeMl[0]!.amount;
  let beforeMl = startMl;
  return Array.from({ length: count }, (_, i) => {
    const toMin = Math.min(i + 1, trace.lengthMin);
    const isLast = i === count - 1;
    const isHere = (min: number) => min >= i && (min < toMin || isLast);
    const endMl = latest(trace.intakeMl, toMin);
    const row: MinuteOfFeed = {
      minute: i + 1,
      takenMl: endMl === null || beforeMl === null ? null : endMl - beforeMl,
      takenSoFarMl: endMl === null ? null : endMl - (startMl ?? 0),
      mostFlowMlPerMin: known(trace.flowMlPerMin, i, toMin).reduce<number | null>(
        (most, flow) => Math.max(most ?? 0, flow),
        null,
      ),
      suckCount: isMostlyUnknown(trace, i, toMin) ? null : (trace.suckAtMin?.filter(isHere).length ?? null),
      tiltDeg: heldAt(trace, i, toMin),
      cues: trace.cues.filter(({ min }) => isHere(min)).map(({ shown }) => shown),
    };
    if (endMl !== null) beforeMl = endMl;
    return row;
  });
}

/** Whether most of the minute has no samples. */
function isMostlyUnknown({ unknown }: FeedTrace, fromMin: number, toMin: number): boolean {
  const lostMin = unknown.reduce(
    (sum, span) => sum + Math.max(0, Math.min(toMin, span.toMin) - Math.max(fromMin, span.fromMin)),
    0,
  );
  return lostMin > (toMin - fromMin) / 2;
}

/** The latest amount known up to a minute; null in a gap. */
function latest(points: Series, min: number): number | null {
  return points.findLast((point) => point.min <= min + 1e-9)?.amount ?? null;
}

const known = (points: Series, fromMin: number, toMin: number): number[] =>
  points.flatMap(({ min, amount }) => (min >= fromMin && min < toMin && amount !== null ? [amount] : []));

function heldAt({ tiltDeg, teatIn }: FeedTrace, fromMin: number, toMin: number): number | null {
  const held = tiltDeg
    .filter(({ min }) => min >= fromMin && min < toMin)
    .filter(({ min }) => teatIn.some((span) => min >= span.fromMin && min < span.toMin))
    .flatMap(({ amount }) => (amount === null ? [] : [amount]))
    .sort((a, b) => a - b);
  return held[Math.floor(held.length / 2)] ?? null;
}
