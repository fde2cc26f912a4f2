/**
 * Which cues stand: fired, not yet answered, not yet shown long enough. Of those that stand the first in this order is shown, if it may be (quiet.ts):
 *
 * 1. `tilt-down`: milk is running too fast now, and only this is harmed by waiting. Not with the nipple out: nothing runs.
 * 2. `offer-stop` and `asleep-early`: before whatever would carry the feed on.
 * 3. `breath-pause`: it is about this very moment.
 * 4. `burp`: before changing arms, as the baby is lifted anyway, and the volume says that it is due.
 * 5. `switch-side`, then hints: they may wait for any of them.
 *
 * A cue that waits behind another is kept for as long as it is still true (lapse.ts), and shown for a while at most.
 */
import type { CueKind } from './cue.ts';
import type { Situation } from './lapse.ts';

export interface Standing {
  on: boolean;
  shownSec: number;
  /** What was so when it fired; null before. */
  fired: Situation | null;
}

/** Kinds that can wait behind another. */
export type PatientCue = Exclude<CueKind, 'tilt-down'>;

/** In the order in which they are shown. */
export const PATIENT_CUES: readonly PatientCue[] = [
  'offer-stop',
  'asleep-early',
  'breath-pause',
  'burp',
  'switch-side',
  'little-coming',
  'hole-dry',
  'lower-is-fine',
  'long-feed',
  'hold-upright',
  'hunger-again',
];

export type StandingCues = Readonly<Record<PatientCue, Standing>>;

export const createStanding = (): StandingCues =>
  Object.fromEntries(PATIENT_CUES.map((kind) => [kind, { on: false, shownSec: 0, fired: null }])) as Record<
    PatientCue,
    Standing
  >;

export function raise(standing: StandingCues, kind: PatientCue, fired: Situation): void {
  standing[kind].on = true;
  standing[kind].shownSec = 0;
  standing[kind].fired = fired;
}

export function lower(standing: StandingCues, kind: PatientCue): void {
  standing[kind].on = false;
}

/** Ages the cue that is shown; it no longer stands once it was shown for `showSec`. */
export function ageShown(standing: StandingCues, kind: PatientCue, stepSec: number, showSec: number): void {
  const one = standing[kind];
  one.shownSec += stepSec;
  if (one.shownSec >= showSec) one.on = false;
}
