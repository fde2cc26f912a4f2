/**
 * Which one cue is shown. A cue that fired stands until it was answered or has been shown long enough; of those that
 * stand, one is shown:
 *
 * 1. `tilt-down`: milk is running too fast now, and only this is harmed by waiting. Not with the nipple out: nothing runs.
 * 2. `offer-stop`: before whatever would carry the feed on.
 * 3. `burp`: before changing arms, as the baby is lifted anyway, and the volume says that it is due.
 * 4. `switch-side`: may wait for any of them.
 *
 * Only the time for which it was shown ages a cue: one that waits behind another is not lost.
 */
import type { CueKind } from './cue.ts';

export interface Standing {
  on: boolean;
  shownSec: number;
}

/** Kinds that can wait behind another. */
export type PatientCue = Exclude<CueKind, 'tilt-down'>;

export interface StandingCues {
  readonly 'offer-stop': Standing;
  readonly burp: Standing;
  readonly 'switch-side': Standing;
}

export const createStanding = (): StandingCues => ({
  'offer-stop': { on: false, shownSec: 0 },
  burp: { on: false, shownSec: 0 },
  'switch-side': { on: false, shownSec: 0 },
});

export function raise(standing: StandingCues, kind: PatientCue): void {
  standing[kind].on = true;
  standing[kind].shownSec = 0;
}

export function lower(standing: StandingCues, kind: PatientCue): void {
  standing[kind].on = false;
}

/** @returns the cue to show, `tilt-down` being decided by its own rule; null for none */
export function frontCue(standing: StandingCues, tiltDownStands: boolean): CueKind | null {
  if (tiltDownStands) return 'tilt-down';
  if (standing['offer-stop'].on) return 'offer-stop';
  if (standing.burp.on) return 'burp';
  if (standing['switch-side'].on) return 'switch-side';
  return null;
}

/** Ages the cue that is shown; it no longer stands once it was shown for `showSec`. */
export function ageShown(standing: StandingCues, kind: PatientCue, stepSec: number, showSec: number): void {
  const one = standing[kind];
  one.shownSec += stepSec;
  if (one.shownSec >= showSec) one.on = false;
}
