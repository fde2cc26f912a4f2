/** Bursts of sucks and the pauses between them. Pure. */

import { BURST_GAP_SEC, type SuckRun, suckRuns } from '../../base/suck-runs.ts';

export type Burst = SuckRun;

/** A single suck is no burst. */
const LEAST_SUCKS = 2;

/** @param suckAtSec starts of the sucks, s, rising @param gapSec sucks at least so far apart belong to two bursts */
export const burstsOf = (suckAtSec: readonly number[], gapSec = BURST_GAP_SEC): Burst[] =>
  suckRuns(suckAtSec, gapSec).filter(({ sucks }) => sucks >= LEAST_SUCKS);

/** @returns times from a burst to the next, s, without pauses in which the nipple was out. @param isIn whether it was in all the time */
export function pausesOf(
  bursts: readonly Burst[],
  isIn: (fromSec: number, toSec: number) => boolean,
): number[] {
  return bursts
    .slice(1)
    .map((burst, i) => ({ fromSec: bursts[i]!.toSec, toSec: burst.fromSec }))
    .filter(({ fromSec, toSec }) => isIn(fromSec, toSec))
    .map(({ fromSec, toSec }) => toSec - fromSec);
}

/** @returns intervals between sucks of one burst, s */
export const intervalsIn = (suckAtSec: readonly number[], gapSec = BURST_GAP_SEC): number[] =>
  suckAtSec
    .slice(1)
    .map((atSec, i) => atSec - suckAtSec[i]!)
    .filter((sec) => sec < gapSec);
