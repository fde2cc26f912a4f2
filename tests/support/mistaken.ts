/** Whether a fast flow was taken for a slow one, or the reverse: "24 mL/min must not be mistaken for 8 for more than 5 s". */
import type { SensedMoment } from '../../src/sensing/index.ts';
import { feedSpan, type Truth, truthAt } from './judge.ts';

/** The larger of estimated and true flow is at least this, mL/min, and the smaller at most this share of it. */
const FAST_ML_PER_MIN = 24;
const SLOW_SHARE = 8 / 24;

export interface Mistaken {
  /** Longest uninterrupted time, seconds: in good rows, and in rows of any quality. */
  goodSec: number;
  anySec: number;
  /** End of the longest time in good rows; null if there was none. */
  atSec: number | null;
}

/** Flows over ten seconds, estimated and true; a flow that is not stated is no mistake. */
export function mistakenFor(moments: readonly SensedMoment[], truth: Truth): Mistaken {
  const { firstSec, lastSec } = feedSpan(truth);
  const found: Mistaken = { goodSec: 0, anySec: 0, atSec: null };
  let goodSec = 0;
  let anySec = 0;
  for (const { atSec, stepSec, flowMlPerMin, quality } of moments) {
    if (atSec < firstSec || atSec > lastSec) continue;
    const trueMlPerMin = truthAt(truth, truth.flow10MlPerMin, atSec);
    const told = flowMlPerMin ?? trueMlPerMin;
    const more = Math.max(told, trueMlPerMin);
    const wrong = more >= FAST_ML_PER_MIN && Math.min(told, trueMlPerMin) <= SLOW_SHARE * more;
    anySec = wrong ? anySec + stepSec : 0;
    goodSec = wrong && quality === 'good' ? goodSec + stepSec : 0;
    if (anySec > found.anySec) found.anySec = anySec;
    if (goodSec <= found.goodSec) continue;
    found.goodSec = goodSec;
    found.atSec = atSec;
  }
  return found;
}
