import { suckRuns } from '../../base/suck-runs.ts';
import type { FeedTrace } from '../graph/feed-trace.ts';

/** Assumed length of a suck, about the time between two sucks, s: near 1 Hz (Qureshi et al. 2002, 55 to 70 a minute). */
const SUCK_SEC = 0.9;

/** Runs of sucks, in minutes. @param suckAtSec when each began, in order */
export const suckBursts = (
  suckAtSec: readonly number[],
  minuteOf: (atSec: number) => number,
): FeedTrace['bursts'] =>
  suckRuns(suckAtSec).map(({ fromSec, toSec, sucks }) => ({
    fromMin: minuteOf(fromSec),
    toMin: minuteOf(toSec + SUCK_SEC),
    suckCount: sucks,
  }));
