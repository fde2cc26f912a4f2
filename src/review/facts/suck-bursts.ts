import type { FeedTrace, Span } from '../graph/feed-trace.ts';

/** Two sucks further apart than this belong to two bursts, s. Common practice, no source; a pause cue waits for 2 s. */
const BURST_GAP_SEC = 2.5;
/** A suck lasts about as long as from one to the next, s: near 1 Hz (Qureshi et al. 2002, 55 to 70 a minute). */
const SUCK_SEC = 0.9;

/** Runs of sucks, in minutes. @param suckAtSec when each began, in order */
export function suckBursts(
  suckAtSec: readonly number[],
  minuteOf: (atSec: number) => number,
): FeedTrace['bursts'] {
  const bursts: (Span & { suckCount: number })[] = [];
  let previousSec = Number.NEGATIVE_INFINITY;
  for (const atSec of suckAtSec) {
    if (atSec - previousSec >= BURST_GAP_SEC)
      bursts.push({ fromMin: minuteOf(atSec), toMin: 0, suckCount: 0 });
    const burst = bursts.at(-1)!;
    burst.suckCount++;
    burst.toMin = minuteOf(atSec + SUCK_SEC);
    previousSec = atSec;
  }
  return bursts;
}
