/** Many sucks without a pause (`breath-pause`). Off unless a parent or a clinician's plan turns it on; figures and sources in the profile. */
import type { PaceParams } from '../profile/profile.ts';

export interface SuckRhythm {
  /** Sucks since the last pause. */
  run: number;
  lastSuckCount: number | null;
  lastCueAtSec: number;
  /** True once this run has given a cue. */
  cued: boolean;
}

export const createSuckRhythm = (): SuckRhythm => ({
  run: 0,
  lastSuckCount: null,
  lastCueAtSec: Number.NEGATIVE_INFINITY,
  cued: false,
});

/**
 * One step, in place.
 * @param pauseSec time without a suck, seconds
 * @returns the sucks in this run when a pause is due in this step, else null
 */
export function stepSuckRhythm(
  rhythm: SuckRhythm,
  suckCount: number,
  pauseSec: number,
  atSec: number,
  params: PaceParams['suckRhythm'],
): number | null {
  const sucks = rhythm.lastSuckCount === null ? 0 : Math.max(0, suckCount - rhythm.lastSuckCount);
  rhythm.lastSuckCount = suckCount;
  if (pauseSec >= params.pauseSec) {
    rhythm.run = 0;
    rhythm.cued = false;
    return null;
  }
  rhythm.run += sucks;
  if (rhythm.cued || rhythm.run < params.sucks || atSec - rhythm.lastCueAtSec < params.gapSec) return null;
  rhythm.cued = true;
  rhythm.lastCueAtSec = atSec;
  return rhythm.run;
}
