/**
 * Who needs a hand first. Only what stands now decides, never how a baby drinks or how often there was a cue: babies are not ranked. Pure.
 *
 * In this order, each with its reason:
 * - `look`: somebody must look at the baby, since the sleeve cannot say how it is (doubt, no guidance), sucking faded early, or milk poured on
 *   though the bottle was lowered. Nothing else makes up for eyes. After them sleeves in no feed that nobody will guide.
 * - `again`: a cue that nobody could follow so far. Whoever feeds may need a second hand.
 * - `cue`: a cue that has just come: the caregiver is most likely at it.
 * - `enough`: the baby may have had enough. Nothing gets worse while she is looked at in her turn; after `UNHEEDED_SEC` it is `again`.
 * - `hint`: nipple or hold; it can wait for a pause.
 * - `waiting`: nobody feeds yet.
 * - `quiet`: nothing to do, or a feed that is over.
 */
import type { Showing } from '../../feed/live/live-view.ts';
import { cueOf } from '../../pacing/cues/shown-cues.ts';

export const NEEDS = ['look', 'again', 'cue', 'enough', 'hint', 'waiting', 'quiet'] as const;
export type Need = (typeof NEEDS)[number];

/** After this a cue counts as not followed, seconds: the time after which the rules would give it again (profile, `again`; own design, no source). */
export const UNHEEDED_SEC = 45;

const LOOK: ReadonlySet<Showing> = new Set(['cannot-tell', 'no-guidance', 'asleep-early', 'nipple-out']);
/** Said only where the cue before it was in vain. */
const IN_VAIN: ReadonlySet<Showing> = new Set(['keep-low']);
/** A burp or the other arm may wait for as long as it likes. */
const MAY_WAIT: ReadonlySet<Showing> = new Set(['burp', 'last-burp', 'switch-side']);

export interface NeedFacts {
  showing: Showing;
  shownForSec: number;
  isFeeding: boolean;
  /** Nobody has begun to feed, and nothing is over. */
  isReady: boolean;
}

export function needOf({ showing, shownForSec, isFeeding, isReady }: NeedFacts): Need {
  // Before and after a feed nobody holds the bottle, whatever the sleeve says.
  if (!isFeeding) return isReady ? 'waiting' : 'quiet';
  if (LOOK.has(showing)) return 'look';
  const cue = cueOf(showing);
  if (!cue) return 'quiet';
  if (!cue.calls) return 'hint';
  if (IN_VAIN.has(showing)) return 'again';
  if (shownForSec >= UNHEEDED_SEC && !MAY_WAIT.has(showing)) return 'again';
  return showing === 'offer-stop' ? 'enough' : 'cue';
}

export interface Placed {
  need: Need;
  shownForSec: number;
  sleeve: number;
  /** No baby is fed by it. */
  isIdle?: boolean;
}

/** Of equal need who has waited longest. Where nobody waits for anything, by the number of the sleeve, so that each has its place. */
export const byNeed = (one: Placed, other: Placed): number =>
  NEEDS.indexOf(one.need) - NEEDS.indexOf(other.need) ||
  Number(one.isIdle ?? false) - Number(other.isIdle ?? false) ||
  (one.need === 'quiet' ? 0 : other.shownForSec - one.shownForSec) ||
  one.sleeve - other.sleeve;
