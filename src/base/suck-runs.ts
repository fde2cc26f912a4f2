/** Sucks close enough together to belong to one burst. Pure. */

/** Two sucks further apart than this belong to two bursts, s. Common practice, no source; a pause cue waits for 2 s. */
export const BURST_GAP_SEC = 2.5;

export interface SuckRun {
  fromSec: number;
  /** Start of the last suck. */
  toSec: number;
  sucks: number;
}

/**
 * @param suckAtSec starts of the sucks, s, rising
 * @param gapSec sucks at least so far apart belong to two runs
 * @returns runs in order; one suck alone is a run too
 */
export function suckRuns(suckAtSec: readonly number[], gapSec = BURST_GAP_SEC): SuckRun[] {
  const runs: SuckRun[] = [];
  for (const atSec of suckAtSec) {
    const run = runs.at(-1);
    if (run && atSec - run.toSec < gapSec) {
      run.toSec = atSec;
      run.sucks++;
    } else runs.push({ fromSec: atSec, toSec: atSec, sucks: 1 });
  }
  return runs;
}
