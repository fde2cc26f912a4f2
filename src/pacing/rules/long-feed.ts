/** A feed has no required length: after 30 minutes it is said once that the baby may be tired. */
import type { PaceParams } from '../profile/profile.ts';

export interface LongFeed {
  said: boolean;
}

export const createLongFeed = (): LongFeed => ({ said: false });

/** @param feedSec time since the first latch, seconds; 0 before. Nothing is said with the nipple out, when the feed may be over. */
export function stepLongFeed(
  long: LongFeed,
  teatInMouth: boolean,
  feedSec: number,
  params: PaceParams['longFeed'],
): boolean {
  if (long.said || !teatInMouth || feedSec < params.afterSec) return false;
  long.said = true;
  return true;
}
