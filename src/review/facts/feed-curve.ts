/** A feed's milk over its time in a few points, for a very small drawing. Pure. */
import type { KeptFeed } from '../../feed/record/feed.ts';
import { feedTrace } from '../graph/feed-trace.ts';
import { fastStretches } from './feed-facts.ts';

export interface FeedCurve {
  lengthMin: number;
  /** mL so far at equal steps from 0 to the end; null where unknown. */
  takenMl: (number | null)[];
  /** Of each step, whether milk ran fast in it. */
  fast: boolean[];
}

const STEPS = 40;

export function feedCurve(feed: KeptFeed): FeedCurve {
  const trace = feedTrace(feed);
  const fast = fastStretches(trace);
  const minutes = Array.from({ length: STEPS + 1 }, (_, i) => (trace.lengthMin * i) / STEPS);
  let next = 0;
  let latest: number | null = null;
  return {
    lengthMin: Number(trace.lengthMin.toFixed(2)),
    takenMl: minutes.map((min) => {
      const { intakeMl } = trace;
      while (next < intakeMl.length && intakeMl[next]!.min <= min + 1e-9) latest = intakeMl[next++]!.amount;
      return latest === null ? null : Number(latest.toFixed(1));
    }),
    fast: minutes.map((min) => fast.some(({ fromMin, toMin }) => min >= fromMin && min <= toMin)),
  };
}
