/** What a trace comes to in a few facts: fast stretches, what followed a cue, pauses, breaks as for a burp. Pure. */
import { CUE_LINES } from './band.ts';
import type { FeedTrace, Series, Span } from './feed-trace.ts';
import type { Followed } from './words.ts';

/** The rate of the quicker of the two pace buckets, mL/min (sleeve contract, section 5). */
export const FAST_ML_PER_MIN = CUE_LINES[1]!.mlPerMin;
/** Shorter than this is a burst of two strong sucks; two stretches nearer than this are one. Our choice, s. */
const SHORTEST_FAST_SEC = 5;
/** Flow under this is gentle again: the rate of the slower bucket, mL/min. */
const GENTLE_ML_PER_MIN = CUE_LINES[0]!.mlPerMin;
/** A hand that went down by this much was lowered, degrees; less is a hand that moves. Our choice. */
const LOWERED_DEG = 8;
/** What comes later than this after a cue is not taken for its answer, s. Our choice. */
const ANSWER_WITHIN_SEC = 30;
const BREAK_WITHIN_SEC = 120;
/** A burp taken: teat out for 5 s or more with tilt under 60° (sleeve contract, section 5). */
const BURP_OUT_SEC = 5;
const BURP_TILT_DEG = 60;

/** Stretches of flow above 14 mL/min that last 5 s or longer. */
export function fastStretches({ flowMlPerMin }: FeedTrace): Span[] {
  const spans: Span[] = [];
  for (const [i, { min, amount }] of flowMlPerMin.entries()) {
    if (amount === null || amount <= FAST_ML_PER_MIN) continue;
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

/** What followed a cue by the trace; null for cues that ask for nothing that a sleeve could see, or while it is too early to tell. */
export function answerTo(trace: FeedTrace, { min, kind }: FeedTrace['cues'][number]): Answer | null {
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
  const flowThen = amountAt(trace.flowMlPerMin, min) ?? 0;
  const eased =
    flowThen <= GENTLE_ML_PER_MIN
      ? null
      : firstAfter(trace.flowMlPerMin, min, (flow) => flow <= GENTLE_ML_PER_MIN);
  const answers: (Answer | null)[] = [
    within('lowered', lowered, min, ANSWER_WITHIN_SEC),
    outAfter(trace, min, ANSWER_WITHIN_SEC),
    within('eased', eased, min, ANSWER_WITHIN_SEC),
  ];
  return first(answers) ?? wentOn(trace, min, ANSWER_WITHIN_SEC);
}

function outAfter({ teatIn }: FeedTrace, min: number, withinSec: number): Answer | null {
  const now = teatIn.find(({ fromMin, toMin }) => fromMin <= min && toMin > min);
  // Where it is out already, the break came before the cue was shown.
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

/** The earliest; of two at once the one named first. */
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

/** Teat out, bottle upright, long enough: as for a burp. What came of it no sleeve can tell. */
export function uprightBreaks(trace: FeedTrace): Span[] {
  const { teatIn, tiltDeg } = trace;
  const outs = [...pauses(trace)];
  const last = teatIn.at(-1);
  const endMin = tiltDeg.at(-1)?.min;
  if (last && endMin !== undefined && endMin > last.toMin) outs.push({ fromMin: last.toMin, toMin: endMin });
  return outs.flatMap((out) => {
    const upright = tiltDeg.filter(
      ({ min, amount }) =>
        min >= out.fromMin && min <= out.toMin && amount !== null && amount < BURP_TILT_DEG,
    );
    const span = { fromMin: upright[0]?.min ?? 0, toMin: upright.at(-1)?.min ?? 0 };
    return secondsOf(span) >= BURP_OUT_SEC ? [span] : [];
  });
}

/** Median angle with the teat in the mouth, degrees; null where it is not known. */
export function usualTiltDeg({ tiltDeg, teatIn }: FeedTrace): number | null {
  const held = tiltDeg
    .filter(
      ({ min, amount }) =>
        amount !== null && teatIn.some(({ fromMin, toMin }) => min >= fromMin && min < toMin),
    )
    .map(({ amount }) => amount!)
    .sort((a, b) => a - b);
  return held[Math.floor(held.length / 2)] ?? null;
}
