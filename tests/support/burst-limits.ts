/** Errors of the limits of detected bursts against the true ones. */
import { type Burst, burstsOf } from '../../src/research/indices/bursts.ts';

/** @returns detected less true time of each start and end of a true burst, s; compared with the detected burst nearest in time */
export function limitErrorsSec(toldSuckAtSec: readonly number[], trueSuckAtSec: readonly number[]): number[] {
  const told = burstsOf(toldSuckAtSec);
  return burstsOf(trueSuckAtSec).flatMap((burst) => {
    const apart = (one: Burst): number =>
      Math.abs(one.fromSec - burst.fromSec) + Math.abs(one.toSec - burst.toSec);
    const nearest = told.reduce((best, one) => (apart(one) < apart(best) ? one : best), told[0]!);
    return [nearest.fromSec - burst.fromSec, nearest.toSec - burst.toSec];
  });
}
