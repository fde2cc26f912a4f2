/**
 * The active cues: fired, not yet answered, and not yet shown for long enough. Of them the one with the lowest `turn` (cues.ts) is shown, if
 * quiet.ts allows it: first what milk does now, then signs that the feed may be over, then cues that are due, then hints.
 *
 * A cue that waits behind another stays active while it is still true (lapse.ts). Each is shown for a limited time.
 */
import { recordOf } from '../base/typed.ts';
import { CUE_KINDS, CUES, type CueKind } from './cues/cues.ts';
import type { Situation } from './cues/lapse.ts';

export interface ActiveCue {
  on: boolean;
  shownSec: number;
  /** The situation when it fired; null before. */
  fired: Situation | null;
}

/** Kinds of cue that can wait behind another. */
export type PatientCue = Exclude<CueKind, 'tilt-down'>;

/** In the order in which they are shown. */
export const PATIENT_CUES: readonly PatientCue[] = CUE_KINDS.filter((kind) => kind !== 'tilt-down').sort(
  (one, other) => CUES[one].turn - CUES[other].turn,
);

export type ActiveCues = Readonly<Record<PatientCue, ActiveCue>>;

export const noActiveCues = (): ActiveCues =>
  recordOf(PATIENT_CUES, () => ({ on: false, shownSec: 0, fired: null }));

export function raise(active: ActiveCues, kind: PatientCue, fired: Situation): void {
  active[kind].on = true;
  active[kind].shownSec = 0;
  active[kind].fired = fired;
}

export function lower(active: ActiveCues, kind: PatientCue): void {
  active[kind].on = false;
}

/** Counts the time for which the cue is shown; after `showSec` it is no longer active. */
export function ageShown(active: ActiveCues, kind: PatientCue, stepSec: number, showSec: number): void {
  const one = active[kind];
  one.shownSec += stepSec;
  if (one.shownSec >= showSec) one.on = false;
}
