/**
 * A bucket that follows the intake as estimated now, not as it was estimated when it came.
 *
 * An intake estimate is corrected for some seconds. If only the newest increments were used, a bucket at zero would add the upward corrections and lose
 * the downward ones, and would cross too early. So it is settled only up to the oldest point of the recent intake and is
 * computed again from there at every step (two dozen points at most).
 */

import type { RecentIntake } from '../cues/cue.ts';
import { type Bucket, type BucketParams, crosses } from './buckets.ts';

/** State of a bucket at the time up to which it is settled. */
export interface Settled {
  atSec: number;
  intakeMl: number;
  aheadMl: number;
  sinceSec: number;
  sinceIntakeMl: number;
}

export const settledAt = (atSec: number, intakeMl: number): Settled => ({
  atSec,
  intakeMl,
  aheadMl: 0,
  sinceSec: atSec,
  sinceIntakeMl: intakeMl,
});

/** Settles the bucket at its present state: the recent intake before now no longer counts. In place. */
export function settleNow(settled: Settled, bucket: Bucket, atSec: number, intakeMl: number): void {
  settled.atSec = atSec;
  settled.intakeMl = intakeMl;
  settled.aheadMl = bucket.aheadMl;
  settled.sinceSec = bucket.sinceSec;
  settled.sinceIntakeMl = intakeMl - bucket.sinceMl;
}

const front: Settled = settledAt(0, 0);

function goOn(point: Settled, atSec: number, intakeMl: number, rateMlPerMin: number): void {
  const next = point.aheadMl + (intakeMl - point.intakeMl) - (rateMlPerMin / 60) * (atSec - point.atSec);
  point.atSec = atSec;
  point.intakeMl = intakeMl;
  point.aheadMl = Math.max(0, next);
  if (next <= 0) {
    point.sinceSec = atSec;
    point.sinceIntakeMl = intakeMl;
  }
}

/** Intake at the settled time as known now; the last known value once the recent intake begins later. */
function revised(settled: Settled, recentIntake: RecentIntake): number {
  const { count, atSec, intakeMl } = recentIntake;
  for (let i = 1; i < count; i++) {
    const before = atSec[i - 1]!;
    const after = atSec[i]!;
    if (settled.atSec < before || settled.atSec > after) continue;
    return (
      intakeMl[i - 1]! + ((settled.atSec - before) / (after - before)) * (intakeMl[i]! - intakeMl[i - 1]!)
    );
  }
  return settled.intakeMl;
}

/**
 * Computes the bucket from the recent intake and the newest intake, in place.
 * @returns true when it crosses its depth
 */
export function followRecentIntake(
  bucket: Bucket,
  settled: Settled,
  recentIntake: RecentIntake,
  atSec: number,
  intakeMl: number,
  params: BucketParams,
  doubtMl = 0,
): boolean {
  const { rateMlPerMin } = params;
  const corrected = revised(settled, recentIntake);
  const foundMl = corrected - settled.intakeMl;
  settled.intakeMl = corrected;
  // Milk that was drunk before and is found only now was ahead of the pace, if the bucket was not empty then.
  if (settled.aheadMl > 0) settled.aheadMl = Math.max(0, settled.aheadMl + foundMl);
  else settled.sinceIntakeMl += foundMl;
  if (recentIntake.count > 0 && recentIntake.atSec[0]! > settled.atSec) {
    goOn(settled, recentIntake.atSec[0]!, recentIntake.intakeMl[0]!, rateMlPerMin);
  }
  Object.assign(front, settled);
  for (let i = 0; i < recentIntake.count; i++) {
    if (recentIntake.atSec[i]! > front.atSec)
      goOn(front, recentIntake.atSec[i]!, recentIntake.intakeMl[i]!, rateMlPerMin);
  }
  if (atSec > front.atSec) goOn(front, atSec, intakeMl, rateMlPerMin);
  bucket.aheadMl = front.aheadMl;
  bucket.sinceSec = front.sinceSec;
  bucket.sinceMl = front.intakeMl - front.sinceIntakeMl;
  return crosses(bucket, params, doubtMl);
}
