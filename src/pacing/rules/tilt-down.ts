/**
 * Milk too fast for too long: when `tilt-down` comes, when it comes again, when it ends.
 * The first comes as soon as either bucket exceeds its depth (sleeve contract, section 5) by the margin of margin.ts. The rest is our own design:
 * - it ends after 4 s without flow; as credit for the pause, the amount ahead is halved;
 * - it ends when neither bucket has reached a new maximum for 20 s, since milk has slowed down;
 * - it comes again after 45 s at the earliest, when a bucket exceeds its depth again or did meanwhile and still does;
 *   after 15 s only if milk keeps pouring: a whole bucket depth more since the cue, without a pause;
 * - it never comes with the nipple out of the mouth: an excess found then (a weighing corrects the intake) waits for the latch;
 *   a waiting cue is dropped, and the pause credited, after the same 4 s without flow.
 */

import type { PacingInput } from '../cues/cue.ts';
import type { PaceParams } from '../profile/profile.ts';
import { type Bucket, type BucketParams, creditBucket, emptyBucket, stepBucket } from './buckets.ts';
import { marginMl } from './margin.ts';
import { followRecentIntake, type Settled, settledAt, settleNow } from './recent-intake.ts';

/** A bucket with the additional state for following cues. */
export interface Pace {
  readonly params: BucketParams;
  readonly bucket: Bucket;
  readonly settled: Settled;
  /** The depth was exceeded without a cue yet, and the bucket has not drained to re-arming. */
  owed: boolean;
  /** Margin over the depth in this step, mL; negative: the cue comes below the depth. */
  marginMl: number;
  /** Lowest level since the last cue, mL: a whole depth above it means "keeps pouring". */
  lowestMl: number;
}

export interface TiltDown {
  readonly paces: readonly [Pace, Pace];
  /** True from the cue until milk stopped or slowed down. */
  active: boolean;
  /** Number of cues, the active one included, between which milk did not slow down. */
  inARow: number;
  lastCueAtSec: number;
  /** The latest time at which flow was seen, and the intake then. */
  flowAtSec: number;
  flowIntakeMl: number;
  /** The greatest ahead ÷ depth since the cue, and when it was reached. */
  peakShare: number;
  peakAtSec: number;
}

const paceOf = (bucket: { rateMlPerMin: number; depthMl: number }, rearmShare: number): Pace => ({
  params: { ...bucket, rearmShare },
  bucket: emptyBucket(),
  settled: settledAt(0, 0),
  owed: false,
  marginMl: 0,
  lowestMl: Number.POSITIVE_INFINITY,
});

export const createTiltDown = ({ buckets, rearmShare }: PaceParams): TiltDown => ({
  paces: [paceOf(buckets.pouring, rearmShare), paceOf(buckets.lasting, rearmShare)],
  active: false,
  inARow: 0,
  lastCueAtSec: Number.NEGATIVE_INFINITY,
  flowAtSec: 0,
  flowIntakeMl: 0,
  peakShare: 0,
  peakAtSec: 0,
});

/** @returns ahead ÷ depth of the bucket with the greater share. */
export function aheadShare(state: TiltDown): number {
  const [one, other] = state.paces;
  return Math.max(one.bucket.aheadMl / one.params.depthMl, other.bucket.aheadMl / other.params.depthMl);
}

/** A step without a valid intake: the buckets only drain, no rule is evaluated. */
export function drainTiltDown(state: TiltDown, { atSec, intakeMl }: PacingInput, stepSec: number): void {
  for (const pace of state.paces) {
    stepBucket(pace.bucket, 0, stepSec, pace.params, atSec);
    settleNow(pace.settled, pace.bucket, atSec, intakeMl);
    if (pace.bucket.armed) pace.owed = false;
  }
  state.flowAtSec = atSec;
  state.flowIntakeMl = intakeMl;
  state.peakAtSec = atSec;
}

/**
 * One step with a valid intake, in place.
 * @param incrementMl change of the intake since the step before, mL
 * @returns the pace whose cue is due in this step, or null
 */
export function stepTiltDown(
  state: TiltDown,
  input: PacingInput,
  stepSec: number,
  incrementMl: number,
  params: PaceParams['tiltDown'],
): Pace | null {
  const { atSec, intakeMl, teatInMouth, recentIntake } = input;
  const isFirst = !Number.isFinite(state.lastCueAtSec);
  for (const pace of state.paces) {
    pace.marginMl = marginMl(input, pace.params.depthMl, isFirst, params);
    const crossed = recentIntake
      ? followRecentIntake(
          pace.bucket,
          pace.settled,
          recentIntake,
          atSec,
          intakeMl,
          pace.params,
          pace.marginMl,
        )
      : stepBucket(pace.bucket, incrementMl, stepSec, pace.params, atSec);
    if (crossed) pace.owed = true;
    else if (pace.bucket.armed) pace.owed = false;
    if (pace.bucket.aheadMl < pace.lowestMl) pace.lowestMl = pace.bucket.aheadMl;
  }
  if (intakeMl > state.flowIntakeMl + params.easedUnderMl) {
    state.flowIntakeMl = intakeMl;
    state.flowAtSec = atSec;
  } else if (intakeMl < state.flowIntakeMl) state.flowIntakeMl = intakeMl;

  const [one, other] = state.paces;
  if (state.active || one.owed || other.owed) endWhenEased(state, atSec, intakeMl, params);
  const due = teatInMouth ? duePace(state, atSec, params) : null;
  if (due !== null) begin(state, atSec, intakeMl);
  return due;
}

function endWhenEased(
  state: TiltDown,
  atSec: number,
  intakeMl: number,
  params: PaceParams['tiltDown'],
): void {
  if (atSec - state.flowAtSec >= params.easedAfterSec) {
    state.active = false;
    for (const pace of state.paces) {
      creditBucket(pace.bucket, params.creditShare, pace.params);
      settleNow(pace.settled, pace.bucket, atSec, intakeMl);
      pace.owed = false;
      if (pace.bucket.aheadMl < pace.lowestMl) pace.lowestMl = pace.bucket.aheadMl;
    }
    return;
  }
  if (!state.active) return;
  const share = aheadShare(state);
  if (share > state.peakShare) {
    state.peakShare = share;
    state.peakAtSec = atSec;
  } else if (atSec - state.peakAtSec >= params.slowerAfterSec) state.active = false;
}

function duePace(state: TiltDown, atSec: number, params: PaceParams['tiltDown']): Pace | null {
  const sinceCueSec = atSec - state.lastCueAtSec;
  const pouringGapSec = state.active ? params.pouringGapSec : params.gapSec;
  for (const pace of state.paces) {
    const { aheadMl } = pace.bucket;
    if (aheadMl <= pace.params.depthMl + pace.marginMl) continue;
    if (pace.owed && sinceCueSec >= params.gapSec) return pace;
    const pouring = aheadMl > pace.lowestMl + params.pouringDepths * pace.params.depthMl;
    if (pouring && Number.isFinite(state.lastCueAtSec) && sinceCueSec >= pouringGapSec) return pace;
  }
  return null;
}

function begin(state: TiltDown, atSec: number, intakeMl: number): void {
  state.inARow = state.active ? state.inARow + 1 : 1;
  state.active = true;
  state.lastCueAtSec = atSec;
  state.flowAtSec = atSec;
  state.flowIntakeMl = intakeMl;
  state.peakShare = aheadShare(state);
  state.peakAtSec = atSec;
  for (const pace of state.paces) {
    pace.owed = false;
    pace.lowestMl = pace.bucket.aheadMl;
  }
}
