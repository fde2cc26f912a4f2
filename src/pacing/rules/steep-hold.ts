/**
 * A bottle held steeply is known by its tilt from the first second in the mouth on, long before milk has shown how fast it comes. It is said once in a
 * feed, softly and to everybody: not as a cue (it is no fact about milk, and the record of cues stays what it was), and never beside one.
 * Once "too fast" was shown it has been said in stronger words.
 */
import type { PacingInput, ShownCue } from '../cues/cue.ts';
import { kindOf } from '../cues/shown-cues.ts';
import type { PaceParams } from '../profile/profile.ts';

export interface SteepHold {
  /** How long the bottle has been steep in the mouth without a break, seconds. */
  steepSec: number;
  shownSec: number;
  /** Nothing more is said of it in this feed. */
  isOver: boolean;
}

export const createSteepHold = (): SteepHold => ({ steepSec: 0, shownSec: 0, isOver: false });

/**
 * One step with a tilt that is believed, in place.
 * @param showing  the cue that has its turn in this step
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
  // Said, and then lowered or seen for long enough.
  else if (hold.shownSec > 0) hold.isOver = true;
  if (hold.shownSec >= params.showSec) hold.isOver = true;
  return isSaid;
}
