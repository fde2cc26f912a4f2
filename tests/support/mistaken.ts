/** Whether a fast flow was taken for a slow one, or the other way: "24 mL/min must not be mistaken for 8 for more than 5 s". */
import type { SensedMoment } from '../../src/sensing/index.ts';
import { feedSpan, type Truth, truthAt } from './judge.ts';

/** The greater of told and true flow is at least this, mL/min, and the less at most this share of it. */
const FAST_ML_PER_MIN = 24;
const SLOW_SHARE = 8 / 24;

export interface Mistaken {
  /** Longest time without a break, seconds: in rows that are good, and in rows of any quality. */
  goodSec: number;
  anySec: number;
  /** When the longest in good rows ended; null when there was none. */
  atSec: number | null;
}

/** Flows over ten seconds, told and true; a flow that is not told is no mistake. */
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
