/** Facts from a trace: fast stretches, what followed a cue, pauses, breaks as for a burp. Pure. */
import { burpsTaken } from '../../pacing/rules/burps.ts';
import type { FeedTrace, Series, Span, TracedCue } from '../graph/feed-trace.ts';
import type { Followed } from '../telling/words.ts';

/** A shorter stretch may be two strong sucks and is ignored; stretches closer than this are joined. Our choice, s. */
const SHORTEST_FAST_SEC = 5;
/** A decrease of the tilt by this much counts as lowered, degrees; less is normal movement. Our choice. */
const LOWERED_DEG = 8;
/** A response later than this after a cue is not counted as its answer, s. Our choice. */
const ANSWER_WITHIN_SEC = 30;
const BREAK_WITHIN_SEC = 120;
/** Flow above this counts as fast: the rate of the pouring bucket in the feed's own pace, mL/min. */
export const fastMlPerMin = ({ pace }: Pick<FeedTrace, 'pace'>): number => pace.lines[1].mlPerMin;
/** Flow below this counts as gentle again: the rate of the lasting bucket. */
const gentleMlPerMin = ({ pace }: Pick<FeedTrace, 'pace'>): number => pace.lines[0].mlPerMin;

/** Stretches of fast flow that last 5 s or longer. */
export function fastStretches(trace: FeedTrace): Span[] {
  const { flowMlPerMin } = trace;
  const fast = fastMlPerMin(trace);
  const spans: Span[] = [];
  for (const [i, { min, amount }] of flowMlPerMin.entries()) {
    if (amount === null || amount <= fast) continue;
    const toMin = flowMlPerMin[i + 1]?.min ?? min;
    const last = spans.at(-1);
    if (last && (min - last.toMin) * 60 <= SHORTEST_FAST_SEC) last.toMin = toMin;
    else spans.push({ fromMin: min, toMin });
  }
  return spans.filter((span) => secondsOf(span) >= SHORTEST_FAST_SEC);
}

export const secondsOf = ({ fromMin, toMin }: Span): number => (toMin - fromMin) * 60;

export interface Answer {
  what: Followed;
  afterSec: number;
}

/**
 * What followed a cue by the trace. Null for cues without an answer that a sleeve can measure, while it is too early, and if it is not
 * known that the cue was shown to anybody.
 */
export function answerTo(trace: FeedTrace, { min, kind, by }: TracedCue): Answer | null {
  if (by === null) return null;
  if (kind === 'tilt-down' || kind === 'breath-pause') return slowedAfter(trace, min);
  if (kind === 'burp' || kind === 'switch-side' || kind === 'offer-stop') {
    return first([outAfter(trace, min, BREAK_WITHIN_SEC)]) ?? wentOn(trace, min, BREAK_WITHIN_SEC);
  }
  return null;
}

function slowedAfter(trace: FeedTrace, min: number): Answer | null {
  const before = amountAt(trace.tiltDeg, min);
  const lowered =
    before === null ? null : firstAfter(trace.tiltDeg, min, (tilt) => tilt <= before - LOWERED_DEG);
  const gentle = gentleMlPerMin(trace);
  const flowThen = amountAt(trace.flowMlPerMin, min) ?? 0;
  const eased = flowThen <= gentle ? null : firstAfter(trace.flowMlPerMin, min, (flow) => flow <= gentle);
  const answers: (Answer | null)[] = [
    within('lowered', lowered, min, ANSWER_WITHIN_SEC),
    outAfter(trace, min, ANSWER_WITHIN_SEC),
    within('eased', eased, min, ANSWER_WITHIN_SEC),
  ];
  return first(answers) ?? wentOn(trace, min, ANSWER_WITHIN_SEC);
}

function outAfter({ teatIn }: FeedTrace, min: number, withinSec: number): Answer | null {
  const now = teatIn.find(({ fromMin, toMin }) => fromMin <= min && toMin > min);
  // It is out already: the break began before the cue was shown.
  return now ? within('nipple-out', now.toMin, min, withinSec) : { what: 'nipple-out', afterSec: 0 };
}

function wentOn({ intakeMl }: FeedTrace, min: number, withinSec: number): Answer | null {
  const lastMin = intakeMl.at(-1)?.min ?? min;
  return (lastMin - min) * 60 >= withinSec ? { what: 'went-on', afterSec: withinSec } : null;
}

function within(what: Followed, atMin: number | null, min: number, withinSec: number): Answer | null {
  if (atMin === null) return null;
  const afterSec = Math.max(0, Math.round((atMin - min) * 60));
  return afterSec <= withinSec ? { what, afterSec } : null;
}

/** The earliest answer; if two are at the same time, the first in the list. */
const first = (answers: (Answer | null)[]): Answer | null =>
  answers.reduce((best, one) => (one && (!best || one.afterSec < best.afterSec) ? one : best), null);

const amountAt = (points: Series, min: number): number | null =>
  points.findLast((point) => point.min <= min)?.amount ?? null;

function firstAfter(points: Series, min: number, holds: (amount: number) => boolean): number | null {
  return (
    points.find((point) => point.min >= min && point.amount !== null && holds(point.amount))?.min ?? null
  );
}

/** Times with the teat out between two times with it in. */
export function pauses({ teatIn }: FeedTrace): Span[] {
  return teatIn.slice(1).map(({ fromMin }, i) => ({ fromMin: teatIn[i]!.toMin, toMin: fromMin }));
}

/** Breaks that counted as a burp during the feed. Whether the baby burped is not known. */
export function uprightBreaks({ teatIn, tiltDeg, pace }: FeedTrace): Span[] {
  const [first] = teatIn;
  if (!first) return [];
  const rows = tiltDeg.flatMap(({ min, amount }) =>
    amount === null || min < first.fromMin
      ? []
      : [{ atSec: min * 60, tiltDeg: amount, teatInMouth: isIn(teatIn, min) }],
  );
  return burpsTaken(rows, pace.burp).map(({ fromSec, toSec }) => ({
    fromMin: fromSec / 60,
    toMin: toSec / 60,
  }));
}

const isIn = (teatIn: readonly Span[], min: number): boolean =>
  teatIn.some(({ fromMin, toMin }) => min >= fromMin && min < toMin);

/** Median angle with the teat in the mouth, degrees; null if not known. */
export function usualTiltDeg({ tiltDeg, teatIn }: FeedTrace): number | null {
  const held = tiltDeg
    .filter(({ min, amount }) => amount !== null && isIn(teatIn, min))
    .map(({ amount }) => amount!)
    .sort((a, b) => a - b);
  return held[Math.floor(held.length / 2)] ?? null;
}
