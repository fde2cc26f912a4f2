/** The data of one session that the curves of a group need, small enough for thousands in memory. Pure. */
import type { RefinedFeed } from '../../sensing/index.ts';
import { INDEX_KEYS, type IndexKey } from '../indices/definitions.ts';
import { type FeedIndices, type Index, isGiven } from '../indices/indices.ts';

/** Time between the points of a curve, s. */
export const STEP_SEC = 10;

export interface SessionBrief {
  session: string;
  participant: string;
  arm: string;
  /** Time zero is the first suck; the first latch if no suck was detected. */
  alignedAt: 'first-suck' | 'first-latch';
  lengthMin: number;
  /** Milk taken since time zero, mL, and flow, mL/min, each `STEP_SEC`; until the nipple left the mouth for good. */
  intakeMl: number[];
  flowMlPerMin: (number | null)[];
  indices: Partial<Record<IndexKey, number>>;
  /** Share of the rows with the nipple in the mouth that are good. */
  goodShare: number;
}

export function briefOf(
  { session, participant, arm }: Pick<SessionBrief, 'session' | 'participant' | 'arm'>,
  { refined, indices }: { refined: RefinedFeed; indices: FeedIndices },
): SessionBrief {
  const { atSec, teatInMouth, suckAtSec, quality = [] } = refined;
  const latch = Math.max(0, teatInMouth.indexOf(true));
  const zeroSec = suckAtSec[0] ?? atSec[latch] ?? 0;
  const endSec = atSec[teatInMouth.lastIndexOf(true)] ?? zeroSec;
  const times: number[] = [];
  for (let sec = zeroSec; sec <= endSec; sec += STEP_SEC) times.push(sec);
  const inMouth = quality.filter((_, i) => teatInMouth[i]);
  const atZero = valueAt(atSec, refined.intakeMl, zeroSec) ?? 0;
  return {
    session,
    participant,
    arm,
    alignedAt: suckAtSec.length > 0 ? 'first-suck' : 'first-latch',
    lengthMin: (endSec - zeroSec) / 60,
    intakeMl: times.map((sec) => rounded((valueAt(atSec, refined.intakeMl, sec) ?? atZero) - atZero)),
    flowMlPerMin: times.map((sec) => {
      const flow = valueAt(atSec, refined.flowMlPerMin, sec);
      return flow === null ? null : rounded(flow);
    }),
    indices: givenOf(indices),
    goodShare: inMouth.length === 0 ? 0 : inMouth.filter((one) => one === 'good').length / inMouth.length,
  };
}

/** Rounded to a thousandth, which is enough for drawing and averaging. */
const rounded = (value: number): number => Number(value.toFixed(3));

/** Linear interpolation; null if either neighbor is. */
function valueAt(atSec: readonly number[], values: readonly (number | null)[], sec: number): number | null {
  const after = atSec.findIndex((one) => one >= sec);
  if (after < 0) return values.at(-1) ?? null;
  const high = values[after] ?? null;
  if (after === 0 || atSec[after] === sec || high === null) return high;
  const low = values[after - 1] ?? null;
  if (low === null) return null;
  const part = (sec - atSec[after - 1]!) / (atSec[after]! - atSec[after - 1]!);
  return low + part * (high - low);
}

const givenOf = (indices: FeedIndices): SessionBrief['indices'] =>
  Object.fromEntries(
    INDEX_KEYS.flatMap((key) => {
      const index: Index = indices[key];
      return isGiven(index) ? [[key, index.value] as const] : [];
    }),
  );

/** @returns the sessions of each participant, in order of first appearance */
export function byParticipant(briefs: readonly SessionBrief[]): SessionBrief[][] {
  const groups = new Map<string, SessionBrief[]>();
  for (const brief of briefs) {
    const group = groups.get(brief.participant);
    if (group) group.push(brief);
    else groups.set(brief.participant, [brief]);
  }
  return [...groups.values()];
}
