/**
 * When to ask the caregiver to look whether the baby has had enough (`offer-stop`). Our own rule, no source:
 *
 * Count only time in which the nipple is offered: in the mouth, bottle not raised. Cut it into bins of 10 s. The newest
 * 2½ minutes are the window, everything before is this baby's own earlier rhythm in this feed. Sucking has faded when the window
 * holds
 * - less than 40 % of the earlier sucks a minute,
 * - less than half of them also without the longest lull, or a lull of 2 minutes: one shorter pause or distraction
 *   between good sucking is not fading, even if the window is nearly empty afterwards,
 * - less than 60 % of the earlier milk a minute, so that a suck counter that fails does not count as fading;
 *   (or less than half of the sucks with less than a third of the milk),
 * and when there are 4 minutes of earlier rhythm to compare with, in which the baby sucked and took milk. So the cue never
 * comes in the first 6½ minutes.
 *
 * A lull is a run of bins with less than 30 % of the earlier sucks, so that one falsely counted suck does not end it. Burps
 * and times with the bottle set down are not counted. A degraded estimate may lose sucks, but not also the milk. Sucks that are missed or invented all along change both sides of the comparison alike.
 * The cue comes once; it can come again only after sucking has returned.
 */
import type { PaceParams } from '../profile/profile.ts';

type EnoughParams = PaceParams['enough'];

export interface Enough {
  /** Newest bins, a ring: sucks, milk (mL) of each. `next` is the next slot to write, which holds the oldest bin. */
  readonly binSucks: Float64Array;
  readonly binMl: Float64Array;
  next: number;
  binsClosed: number;
  /** The bin that is being filled. */
  openSec: number;
  openSucks: number;
  openMl: number;
  /** All bins that have left the window. */
  earlierBins: number;
  earlierSucks: number;
  earlierMl: number;
  takenMl: number;
  /** False from a cue until sucking has returned. */
  armed: boolean;
  lastSuckCount: number | null;
}

/** The numbers behind the cue: sucks in the window, and the baby's earlier sucks a minute. */
export interface Fading {
  windowSec: number;
  windowSucks: number;
  earlierSucksPerMin: number;
}

export function createEnough(params: EnoughParams): Enough {
  const bins = Math.round(params.windowSec / params.binSec);
  return {
    binSucks: new Float64Array(bins),
    binMl: new Float64Array(bins),
    next: 0,
    binsClosed: 0,
    openSec: 0,
    openSucks: 0,
    openMl: 0,
    earlierBins: 0,
    earlierSucks: 0,
    earlierMl: 0,
    takenMl: 0,
    armed: true,
    lastSuckCount: null,
  };
}

/**
 * One step, in place. The rule is evaluated only at the end of a bin.
 * @param offered the nipple is in the mouth, the bottle is not raised, and the estimate is believed
 * @param suckCount sucks since the start; @param incrementMl change of the intake, mL
 */
export function stepEnough(
  enough: Enough,
  offered: boolean,
  suckCount: number,
  incrementMl: number,
  stepSec: number,
  params: EnoughParams,
): Fading | null {
  const sucks = enough.lastSuckCount === null ? 0 : Math.max(0, suckCount - enough.lastSuckCount);
  enough.lastSuckCount = suckCount;
  if (!offered) return null;
  enough.openSec += stepSec;
  enough.openSucks += sucks;
  enough.openMl += incrementMl;
  enough.takenMl += incrementMl;
  if (enough.openSec < params.binSec) return null;
  closeBin(enough);
  return judge(enough, params);
}

function closeBin(enough: Enough): void {
  const slot = enough.next;
  const full = enough.binsClosed >= enough.binSucks.length;
  if (full) {
    enough.earlierBins += 1;
    enough.earlierSucks += enough.binSucks[slot]!;
    enough.earlierMl += enough.binMl[slot]!;
  }
  enough.binSucks[slot] = enough.openSucks;
  enough.binMl[slot] = enough.openMl;
  enough.next = (slot + 1) % enough.binSucks.length;
  enough.binsClosed += 1;
  // A step may be longer than the rest of the bin; the excess is dropped, since it must not be counted in a wrong bin.
  enough.openSec = 0;
  enough.openSucks = 0;
  enough.openMl = 0;
}

function judge(enough: Enough, params: EnoughParams): Fading | null {
  const { earlierBins, earlierSucks, earlierMl, binSucks, binMl } = enough;
  if (earlierBins * params.binSec < params.earlierSec || enough.takenMl < params.takenMl) return null;
  if (earlierSucks <= 0 || earlierMl <= 0) return null;

  const bins = binSucks.length;
  const usualSucks = earlierSucks / earlierBins;
  const lullUnder = params.lullShare * usualSucks;
  let windowSucks = 0;
  let windowMl = 0;
  let run = 0;
  let runSucks = 0;
  let lull = 0;
  let lullSucks = 0;
  for (let bin = 0; bin < bins; bin += 1) {
    const slot = (enough.next + bin) % bins;
    const sucks = binSucks[slot]!;
    windowSucks += sucks;
    windowMl += binMl[slot]!;
    run = sucks < lullUnder ? run + 1 : 0;
    runSucks = run === 0 ? 0 : runSucks + sucks;
    if (run > lull) {
      lull = run;
      lullSucks = runSucks;
    }
  }

  if (windowSucks >= params.resumedShare * usualSucks * bins) enough.armed = true;
  const onePause =
    lull * params.binSec < params.stoppedSec &&
    windowSucks - lullSucks >= params.outsideLullShare * usualSucks * (bins - lull);
  const suckShare = windowSucks / (usualSucks * bins);
  const milkShare = windowMl / ((earlierMl / earlierBins) * bins);
  const faded =
    !onePause &&
    ((suckShare < params.suckShare && milkShare < params.milkShare) ||
      (suckShare < params.suckShareAtLittleMilk && milkShare < params.littleMilkShare));
  if (!faded || !enough.armed) return null;
  enough.armed = false;
  return {
    windowSec: params.windowSec,
    windowSucks,
    earlierSucksPerMin: (usualSucks * 60) / params.binSec,
  };
}
