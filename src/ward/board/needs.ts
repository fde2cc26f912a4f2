/**
 * Order of the cots by need. Only the present state decides, never how a baby drinks or how often there was a cue: babies are not ranked. Pure.
 *
 * In this order:
 * - `look`: somebody must look at the baby, since the sleeve cannot measure (doubt, no guidance), sucking faded early, or milk kept pouring
 *   although the bottle was lowered. Sleeves in no feed that nobody will guide come after these.
 * - `again`: a cue that was not followed so far; the caregiver may need help.
 * - `cue`: a new cue; the caregiver is probably responding.
 * - `enough`: the baby may have had enough; it can wait. After `UNHEEDED_SEC` it becomes `again`.
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
/** Shown only after a cue without effect. */
const IN_VAIN: ReadonlySet<Showing> = new Set(['keep-low']);
/** These may wait without limit. */
const MAY_WAIT: ReadonlySet<Showing> = new Set(['burp', 'last-burp', 'switch-side']);

export interface NeedFacts {
  showing: Showing;
  shownForSec: number;
  isFeeding: boolean;
  /** No feed has begun or ended. */
  isReady: boolean;
}

export function needOf({ showing, shownForSec, isFeeding, isReady }: NeedFacts): Need {
  // Before and after a feed nobody holds the bottle, so its state does not matter.
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

/** With equal need the longest wait comes first; cots that wait for nothing are ordered by sleeve number, so that each keeps its place. */
export const byNeed = (one: Placed, other: Placed): number =>
  NEEDS.indexOf(one.need) - NEEDS.indexOf(other.need) ||
  Number(one.isIdle ?? false) - Number(other.isIdle ?? false) ||
  (one.need === 'quiet' ? 0 : other.shownForSec - one.shownForSec) ||
  one.sleeve - other.sleeve;
