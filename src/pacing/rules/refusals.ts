/**
 * Three refusals in a row (stop rule of a study, Ventura et al., Childhood Obesity, abstract): the nipple was offered, and left the mouth within
 * some seconds without sucking and without milk. An offer that brought milk is no refusal, even if no suck was counted; a very short contact with the lips is no offer.
 */
import type { PaceParams } from '../profile/profile.ts';

type EnoughParams = PaceParams['enough'];

/** A shorter time in the mouth is no offer; a shorter time out of it does not end the offer, seconds. */
const BOUNCE_SEC = 1.5;

export interface Refusals {
  inARow: number;
  /** The present offer; null with the nipple out. */
  offer: { sinceSec: number; sucksBefore: number; mlBefore: number } | null;
  outSinceSec: number;
  /** True once an ended offer was judged, after the nipple has been out for `BOUNCE_SEC`. */
  judged: boolean;
}

export const createRefusals = (): Refusals => ({
  inARow: 0,
  offer: null,
  outSinceSec: 0,
  judged: true,
});

/**
 * One step, in place.
 * @returns true in the step in which the third refusal in a row counts
 */
export function stepRefusals(
  refusals: Refusals,
  teatInMouth: boolean,
  atSec: number,
  suckCount: number,
  intakeMl: number,
  params: EnoughParams,
): boolean {
  const { offer } = refusals;
  if (teatInMouth) {
    // Out for a moment only: the same offer continues.
    if (offer === null || refusals.judged) {
      refusals.offer = { sinceSec: atSec, sucksBefore: suckCount, mlBefore: intakeMl };
      refusals.judged = false;
    }
    refusals.outSinceSec = Number.POSITIVE_INFINITY;
    return false;
  }
  if (offer === null || refusals.judged) return false;
  if (!Number.isFinite(refusals.outSinceSec)) refusals.outSinceSec = atSec;
  if (atSec - refusals.outSinceSec < BOUNCE_SEC) return false;
  refusals.judged = true;
  const offeredSec = refusals.outSinceSec - offer.sinceSec;
  if (offeredSec < BOUNCE_SEC) return false;
  const refused =
    offeredSec <= params.refusedWithinSec &&
    suckCount - offer.sucksBefore < params.refusedUnderSucks &&
    intakeMl - offer.mlBefore < params.refusedUnderMl;
  refusals.inARow = refused ? refusals.inARow + 1 : 0;
  return refused && refusals.inARow === params.refusals && intakeMl >= params.takenMl;
}
