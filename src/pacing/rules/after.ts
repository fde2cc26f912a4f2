/**
 * After the feed, silent and optional: hold the baby upright (AAP: 10-15 min); and much later, only if signs of hunger return and never when asleep, a
 * little more milk. It starts when the nipple has been out for a while after "enough?". The extra milk belongs to the same feed; it is offered once.
 */
import type { PaceParams } from '../profile/profile.ts';

export interface After {
  enoughAsked: boolean;
  outSinceSec: number | null;
  uprightSaid: boolean;
  againSaid: boolean;
}

export const createAfter = (): After => ({
  enoughAsked: false,
  outSinceSec: null,
  uprightSaid: false,
  againSaid: false,
});

/** "Enough?" was asked, so the feed may end now. */
export function noteEnough(after: After): void {
  after.enoughAsked = true;
}

/** One step, in place. @returns the cue that is due in this step, or null */
export function stepAfter(
  after: After,
  teatInMouth: boolean,
  atSec: number,
  params: PaceParams['after'],
): 'hold-upright' | 'hunger-again' | null {
  if (teatInMouth) {
    after.outSinceSec = null;
    after.uprightSaid = false;
    return null;
  }
  after.outSinceSec ??= atSec;
  if (!after.enoughAsked) return null;
  const outSec = atSec - after.outSinceSec;
  if (!after.uprightSaid && outSec >= params.outSec) {
    after.uprightSaid = true;
    return 'hold-upright';
  }
  if (!after.againSaid && outSec >= params.againSec) {
    after.againSaid = true;
    return 'hunger-again';
  }
  return null;
}
