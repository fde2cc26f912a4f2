/**
 * Much sucking, little milk: 2 minutes of active sucking that brought less than about 1 mL a minute. The cue asks to check the nipple and the vent; it
 * does not mean fullness (enough.ts looks for fading sucks). Active time: a suck in the last 2 s, nipple in, hole not dry.
 */
import type { PaceParams } from '../profile/profile.ts';

const BIN_SEC = 10;

export interface LittleComing {
  /** Milk and sucks of the newest bins of active time, a ring. */
  readonly binMl: Float64Array;
  readonly binSucks: Float64Array;
  next: number;
  closed: number;
  openSec: number;
  openMl: number;
  openSucks: number;
  lastSuckCount: number | null;
  lastCueAtSec: number;
}

/** The numbers behind the cue. */
export interface HardWork {
  activeSec: number;
  sucks: number;
  takenMl: number;
}

export function createLittleComing({ activeSec }: PaceParams['littleComing']): LittleComing {
  const bins = Math.round(activeSec / BIN_SEC);
  return {
    binMl: new Float64Array(bins),
    binSucks: new Float64Array(bins),
    next: 0,
    closed: 0,
    openSec: 0,
    openMl: 0,
    openSucks: 0,
    lastSuckCount: null,
    lastCueAtSec: Number.NEGATIVE_INFINITY,
  };
}

/** One step, in place. @param active nipple in, hole not dry, a suck in the last seconds; its milk is `incrementMl` */
export function stepLittleComing(
  little: LittleComing,
  active: boolean,
  suckCount: number,
  incrementMl: number,
  stepSec: number,
  atSec: number,
  params: PaceParams['littleComing'],
): HardWork | null {
  const sucks = little.lastSuckCount === null ? 0 : Math.max(0, suckCount - little.lastSuckCount);
  little.lastSuckCount = suckCount;
  if (!active) return null;
  little.openSec += stepSec;
  little.openMl += incrementMl;
  little.openSucks += sucks;
  if (little.openSec < BIN_SEC) return null;
  const bins = little.binMl.length;
  little.binMl[little.next] = little.openMl;
  little.binSucks[little.next] = little.openSucks;
  little.next = (little.next + 1) % bins;
  little.closed += 1;
  little.openSec = 0;
  little.openMl = 0;
  little.openSucks = 0;
  if (little.closed < bins || atSec - little.lastCueAtSec < params.gapSec) return null;
  let takenMl = 0;
  let allSucks = 0;
  for (let bin = 0; bin < bins; bin += 1) {
    takenMl += little.binMl[bin]!;
    allSucks += little.binSucks[bin]!;
  }
  const activeSec = bins * BIN_SEC;
  if (takenMl >= (params.underMlPerMin * activeSec) / 60) return null;
  little.lastCueAtSec = atSec;
  return { activeSec, sucks: allSucks, takenMl };
}
