/**
 * Which of the active cues is shown, so that few cues come. All cues are recorded; this only decides what light, sound and page show.
 *
 * - At most one cue begins in two minutes, and about eight in a feed. "Too fast" is never delayed, "enough?" only by the two minutes.
 *   A pause for breath has its own gap, since a family or a clinician turned it on.
 * - Burp and change of sides begin only in a suck pause, as the rules do. With the nipple out no burp is asked for (the caregiver pauses already);
 *   a change of sides or a check of the nipple may then be shown together with it.
 * - No burp is asked for while the baby may be asleep. A caregiver who burped without being asked gets more time before the next burp cue.
 * - With the bottle empty a burp that is due is shown at once, nipple in or out, however many cues there were.
 * - A cue that no longer holds (lapse.ts) is dropped, whether it waits or is shown.
 * - Hints are not shown when earlier feeds needed few cues; at the quietest level only "too fast" and "enough?" are.
 */

import { type ActiveCues, lower, PATIENT_CUES, type PatientCue } from '../active-cues.ts';
import { CUES } from '../cues/cues.ts';
import { cueOf, kindOf, type ShownCue } from '../cues/shown-cues.ts';
import type { PaceParams } from '../profile/profile.ts';
import type { QuietLevel } from './quiet-level.ts';

/** Variants of "too fast". */
export type PourCue = 'tilt-down' | 'keep-low' | 'nipple-out';

/** Cues and variants that can be shown in turn. */
export type TurnCue = Exclude<ShownCue, 'last-burp'>;

export interface Quiet {
  readonly level: QuietLevel;
  readonly gapSec: number;
  readonly atMost: number;
  /** When a cue last began to be shown, except `breath-pause`. */
  beganAtSec: number;
  /** How many of the cues that count have begun, `tilt-down` included. */
  begun: number;
  showing: TurnCue | null;
}

/** Factor on the gap and divisor of the number of cues. */
const LEVELS: Record<QuietLevel, number> = { usual: 1, quieter: 2, quietest: 4 };

export const createQuiet = (level: QuietLevel, params: PaceParams['quiet']): Quiet => ({
  level,
  gapSec: params.gapSec * LEVELS[level],
  atMost: Math.max(1, Math.round(params.atMost / LEVELS[level])),
  beganAtSec: Number.NEGATIVE_INFINITY,
  begun: 0,
  showing: null,
});

/** What the choice depends on in this step. */
export interface Circumstances {
  atSec: number;
  teatInMouth: boolean;
  pauseSec: number;
  suckPauseSec: number;
  /** The variant of `tilt-down` that is active with the nipple in the mouth; null: none. */
  tooFast: PourCue | null;
  /** Burps are delayed: the baby may be asleep, or the caregiver burps without being asked. */
  burpHeld: boolean;
  bottleEmpty: boolean;
  /** Whether an active cue is still true. */
  holds: (kind: PatientCue) => boolean;
}

/** @returns the one cue to show now; state is updated in place */
export function stepQuiet(quiet: Quiet, active: ActiveCues, now: Circumstances): TurnCue | null {
  const chosen = now.tooFast ?? chosenPatient(quiet, active, now);
  if (chosen !== null && begins(quiet.showing, chosen, active)) {
    if (chosen !== 'breath-pause') quiet.beganAtSec = now.atSec;
    if (cueOf(chosen)?.counts) quiet.begun += 1;
  }
  quiet.showing = chosen;
  return chosen;
}

function begins(before: TurnCue | null, chosen: TurnCue, active: ActiveCues): boolean {
  if (chosen === before) return false;
  return isPour(chosen) ? before === null || !isPour(before) : active[chosen].shownSec === 0;
}

/** All variants count as one cue until milk has slowed down. */
export const isPour = (shown: TurnCue): shown is PourCue => kindOf(shown) === 'tilt-down';

function chosenPatient(quiet: Quiet, active: ActiveCues, now: Circumstances): PatientCue | null {
  for (const kind of PATIENT_CUES) {
    const one = active[kind];
    if (!one.on) continue;
    if (!now.holds(kind)) {
      lower(active, kind);
      continue;
    }
    if (one.shownSec > 0) return kind;
    if (isMuted(quiet, kind, now)) {
      lower(active, kind);
      continue;
    }
    if (mayBegin(quiet, kind, now)) return kind;
    // A waiting cue does not delay others; but while "enough?" waits, no cue may come that continues the feed.
    if (kind === 'offer-stop') return burpBeforeEnough(active, now);
  }
  return null;
}

/** A burp does not continue the feed when it is shown already, or when the bottle is empty. */
function burpBeforeEnough({ burp }: ActiveCues, now: Circumstances): 'burp' | null {
  if (!burp.on || !now.holds('burp')) return null;
  return burp.shownSec > 0 || (now.bottleEmpty && !now.burpHeld) ? 'burp' : null;
}

function isMuted(quiet: Quiet, kind: PatientCue, { bottleEmpty }: Circumstances): boolean {
  const { shownDownTo, counts } = CUES[kind];
  if (LEVELS[quiet.level] > LEVELS[shownDownTo]) return true;
  if (kind === 'burp' && bottleEmpty) return false;
  return counts && quiet.begun >= quiet.atMost;
}

function mayBegin(quiet: Quiet, kind: PatientCue, now: Circumstances): boolean {
  if (kind === 'breath-pause') return now.teatInMouth;
  if ((kind === 'switch-side' || kind === 'fast-nipple') && !now.teatInMouth) return true;
  if (kind === 'burp' && now.bottleEmpty) return !now.burpHeld;
  if (now.atSec - quiet.beganAtSec < quiet.gapSec) return false;
  if (kind === 'burp') return now.teatInMouth && !now.burpHeld && now.pauseSec >= now.suckPauseSec;
  if (kind === 'switch-side') return now.pauseSec >= now.suckPauseSec;
  return true;
}
