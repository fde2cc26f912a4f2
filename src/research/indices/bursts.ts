/** Bursts of sucks and the pauses between them. Pure. */

/** Two sucks further apart than this belong to two bursts, s. Common practice, no source. */
export const BURST_GAP_SEC = 2.5;
/** A single suck is no burst. */
const LEAST_SUCKS = 2;

export interface Burst {
  fromSec: number;
  /** Start of the last suck. */
  toSec: number;
  sucks: number;
}

/** @param suckAtSec starts of the sucks, s, rising */
export function burstsOf(suckAtSec: readonly number[]): Burst[] {
  const runs: Burst[] = [];
  for (const atSec of suckAtSec) {
    const run = runs.at(-1);
    if (run && atSec - run.toSec < BURST_GAP_SEC) {
      run.toSec = atSec;
      run.sucks++;
    } else runs.push({ fromSec: atSec, toSec: atSec, sucks: 1 });
  }
  return runs.filter(({ sucks }) => sucks >= LEAST_SUCKS);
}

/** @returns times from a burst to the next, s, without those in which the nipple was out. @param isIn whether it was in throughout */
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
export const intervalsIn = (suckAtSec: readonly number[]): number[] =>
  suckAtSec
    .slice(1)
    .map((atSec, i) => atSec - suckAtSec[i]!)
    .filter((sec) => sec < BURST_GAP_SEC);
