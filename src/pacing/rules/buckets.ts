/**
 * A pace bucket: how many millilitres the baby is ahead of a steady pace. Milk taken fills it, time drains it.
 * Source: sleeve contract, section 5. It is a one-sided cumulative sum of (flow − rate), after Page 1954
 * (Biometrika 41:100, from memory).
 */

export interface Bucket {
  /** Millilitres ahead of the pace, ≥ 0. */
  aheadMl: number;
  /** False from a crossing until the bucket has drained under its re-arming level. */
  armed: boolean;
  /** When the bucket was last empty, seconds, and the milk taken since, mL. Used for the reason's words only. */
  sinceSec: number;
  sinceMl: number;
}

export interface BucketParams {
  rateMlPerMin: number;
  depthMl: number;
  /** Re-armed when ahead < rearmShare × depth. */
  rearmShare: number;
}

export const emptyBucket = (): Bucket => ({ aheadMl: 0, armed: true, sinceSec: 0, sinceMl: 0 });

/**
 * One step, in place: ahead = max(0, ahead + increment − rate × time).
 * Only intake counts, not spilt or added milk. A small negative increment is a correction.
 * @param intakeIncrementMl change of the intake since the step before, mL
 * @param stepSec time since the step before, seconds, ≥ 0
 * @param atSec time of this step, seconds; stored only for the reason's words
 * @returns true when the bucket crosses its depth in this step
 */
export function stepBucket(
  bucket: Bucket,
  intakeIncrementMl: number,
  stepSec: number,
  params: BucketParams,
  atSec = 0,
): boolean {
  const next = bucket.aheadMl + intakeIncrementMl - (params.rateMlPerMin / 60) * stepSec;
  if (next > 0) {
    bucket.aheadMl = next;
    bucket.sinceMl += intakeIncrementMl;
  } else {
    bucket.aheadMl = 0;
    bucket.sinceMl = 0;
    bucket.sinceSec = atSec;
  }
  return crosses(bucket, params);
}

/**
 * True when the bucket has just exceeded its depth; re-arms it once it has drained.
 * @param doubtMl how uncertain the intake is, mL: an excess smaller than that does not count yet
 */
export function crosses(bucket: Bucket, params: BucketParams, doubtMl = 0): boolean {
  if (bucket.armed) {
    if (bucket.aheadMl <= params.depthMl + doubtMl) return false;
    bucket.armed = false;
    return true;
  }
  if (bucket.aheadMl < params.depthMl * params.rearmShare) bucket.armed = true;
  return false;
}

/** Keeps `share` of the amount ahead: the rest is the credit for a pause. */
export function creditBucket(bucket: Bucket, share: number, params: BucketParams): void {
  bucket.aheadMl *= share;
  if (bucket.aheadMl < params.depthMl * params.rearmShare) bucket.armed = true;
}
