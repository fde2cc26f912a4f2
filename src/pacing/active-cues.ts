/**
 * Which cues stand: fired, not yet answered, not yet shown long enough. Of those that stand the one whose turn comes first (cues.ts, `turn`) is shown, if it
 * may be (quiet.ts): what milk does now, then whatever says that the feed may be over, then what is due, then hints.
 *
 * A cue that waits behind another is kept for as long as it is still true (lapse.ts), and shown for a while at most.
 */
import { recordOf } from '../base/typed.ts';
import { CUE_KINDS, CUES, type CueKind } from './cues/cues.ts';
import type { Situation } from './cues/lapse.ts';

export interface ActiveCue {
  on: boolean;
  shownSec: number;
  /** What was so when it fired; null before. */
  fired: Situation | null;
}

/** Kinds that can wait behind another. */
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

/** Ages the cue that is shown; it no longer stands once it was shown for `showSec`. */
export function ageShown(active: ActiveCues, kind: PatientCue, stepSec: number, showSec: number): void {
  const one = active[kind];
  one.shownSec += stepSec;
  if (one.shownSec >= showSec) one.on = false;
}
