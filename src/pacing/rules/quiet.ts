/**
 * What of the active cues is shown: quiet by design. The record stays whole; this only decides what light, sound and page follow.
 *
 * - One cue begins in two minutes at most, and about eight in a feed. Milk that pours is never held back, "enough?" only by the two minutes.
 *   A pause for breath was asked for by who turned that rule on, and keeps to its own gap.
 * - Burp and change of arms begin only in a suck pause, as the rules do; with the nipple out a burp is not asked for (she pauses by herself),
 *   and a change of arms or a look at the nipple may join it: no further interruption.
 * - A burp is not asked of a baby that may be asleep. Who burped unasked is given room before she is asked the next time.
 * - With the bottle empty nothing is interrupted: a burp that is due is said at once, nipple in or out, however many cues there were.
 * - What no longer holds (lapse.ts) is dropped, whether it waits or is shown.
 * - Hints are not shown when earlier feeds needed few cues; at the quietest only "too fast" and "enough?" are.
 */
import { CUES } from '../cues/cues.ts';
import { cueOf, kindOf, type ShownCue } from '../cues/shown-cues.ts';
import type { PaceParams } from '../profile/profile.ts';
import { lower, PATIENT_CUES, type PatientCue, type ActiveCues } from '../active-cues.ts';
import type { QuietLevel } from './quiet-level.ts';

/** Ways of saying that milk pours. */
export type PourCue = 'tilt-down' | 'keep-low' | 'nipple-out';

/** What may have its turn. */
export type TurnCue = Exclude<ShownCue, 'last-burp'>;

export interface Quiet {
  readonly level: QuietLevel;
  readonly gapSec: number;
  readonly atMost: number;
  /** When a cue last began to be shown, `breath-pause` apart. */
  beganAtSec: number;
  /** How many of those that count have begun, `tilt-down` included. */
  begun: number;
  showing: TurnCue | null;
}

/** How much longer the gap and how many fewer the cues. */
const LEVELS: Record<QuietLevel, number> = { usual: 1, quieter: 2, quietest: 4 };

export const createQuiet = (level: QuietLevel, params: PaceParams['quiet']): Quiet => ({
  level,
  gapSec: params.gapSec * LEVELS[level],
  atMost: Math.max(1, Math.round(params.atMost / LEVELS[level])),
  beganAtSec: Number.NEGATIVE_INFINITY,
  begun: 0,
  showing: null,
});

/** What the choice rests on in this step. */
export interface Circumstances {
  atSec: number;
  teatInMouth: boolean;
  pauseSec: number;
  suckPauseSec: number;
  /** `tilt-down` stands and its bottle is in the mouth; in which words. */
  tooFast: PourCue | null;
  /** Burps are held back: baby may be asleep, or she who burps unasked still has room. */
  burpHeld: boolean;
  bottleEmpty: boolean;
  /** Whether a cue that stands is still true. */
  holds: (kind: PatientCue) => boolean;
}

/** @returns the one cue to show now, in place */
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

/** One and the same cue, however often it comes until milk has slowed. */
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
    // What waits for its moment holds back nothing that may come now, but "enough?" lets nothing pass that carries a feed on.
    if (kind === 'offer-stop') return burpBeforeEnough(active, now);
  }
  return null;
}

/** A burp carries no feed on when it is shown already, or when the bottle is empty. */
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
