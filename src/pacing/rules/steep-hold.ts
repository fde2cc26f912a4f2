/**
 * A steep bottle is known by its tilt from the first second in the mouth, long before the flow is known. It is said once in a feed, softly and to
 * everybody. It is not a cue (the record of cues must not change) and is never shown beside one. After "too fast" was shown it is not said, since that
 * cue says the same more strongly.
 */
import type { PacingInput, ShownCue } from '../cues/cue.ts';
import { kindOf } from '../cues/shown-cues.ts';
import type { PaceParams } from '../profile/profile.ts';

export interface SteepHold {
  /** How long the bottle has been steep in the mouth without interruption, seconds. */
  steepSec: number;
  shownSec: number;
  /** It is not said again in this feed. */
  isOver: boolean;
}

export const createSteepHold = (): SteepHold => ({ steepSec: 0, shownSec: 0, isOver: false });

/**
 * One step with a valid tilt, in place.
 * @param showing  the cue shown in this step
 * @returns whether it is to be said now
 */
export function stepSteepHold(
  hold: SteepHold,
  { teatInMouth, tiltDeg, coverTiltDeg }: PacingInput,
  stepSec: number,
  showing: ShownCue | null,
  params: PaceParams['steepHold'],
): boolean {
  if (hold.isOver) return false;
  if (showing !== null && kindOf(showing) === 'tilt-down') {
    hold.isOver = true;
    return false;
  }
  // A nearly empty bottle needs a steeper hold.
  const isSteep = teatInMouth && tiltDeg > Math.max(params.overDeg, coverTiltDeg ?? 0);
  hold.steepSec = isSteep ? hold.steepSec + stepSec : 0;
  const isSaid = hold.steepSec >= params.lastsSec && showing === null;
  if (isSaid) hold.shownSec += stepSec;
  // It was shown, and the bottle was then lowered or the time is over.
  else if (hold.shownSec > 0) hold.isOver = true;
  if (hold.shownSec >= params.showSec) hold.isOver = true;
  return isSaid;
}
