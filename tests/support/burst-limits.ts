/** Bursts that were told beside the true ones: how far their limits are off. */
import { type Burst, burstsOf } from '../../src/research/indices/bursts.ts';

/** @returns told less true of each start and end of a true burst, s; the told burst is the nearest in time */
export function limitErrorsSec(toldSuckAtSec: readonly number[], trueSuckAtSec: readonly number[]): number[] {
  const told = burstsOf(toldSuckAtSec);
  return burstsOf(trueSuckAtSec).flatMap((burst) => {
    const apart = (one: Burst): number =>
      Math.abs(one.fromSec - burst.fromSec) + Math.abs(one.toSec - burst.toSec);
    const nearest = told.reduce((best, one) => (apart(one) < apart(best) ? one : best), told[0]!);
    return [nearest.fromSec - burst.fromSec, nearest.toSec - burst.toSec];
  });
}
