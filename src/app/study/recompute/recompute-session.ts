/** One session of a recomputation: computed, stored, and compared with the earlier result. */
import { briefOf, type SessionBrief } from '../../../research/group/brief.ts';
import type { RefinedFeed } from '../../../sensing/index.ts';
import { readResult, writeResult } from '../sessions/result-file.ts';
import { type Computed, computeSession, isSetAside, type SessionInput } from '../sessions/session-result.ts';
import { type Difference, differencesOf } from './differences.ts';

export interface RecomputeJob {
  session: string;
  participant: string;
  input: SessionInput;
  /** File of the result; an existing one with the same input is reused. */
  out: string;
  /** File of the earlier run's result; null: compare with the store. */
  before: string | null;
  kept: RefinedFeed | null;
}

export interface RecomputedSession {
  setAside: Extract<Computed, string> | null;
  captureSha256: string | null;
  /** Sleeve time from the first row to the last, s. */
  lengthSec: number;
  /** It was computed before, here or in its feed, so that it can be told what moved. */
  isCompared: boolean;
  differences: Difference[];
  /** Data for the curves; null if set aside. Without the arm, because of blinding. */
  brief: Omit<SessionBrief, 'arm'> | null;
}

export function recomputeSession({
  session,
  participant,
  input,
  out,
  before,
  kept,
}: RecomputeJob): RecomputedSession {
  let computed = readResult(out, input);
  if (computed === null) {
    computed = computeSession(input);
    writeResult(out, input, computed);
  }
  const old = (before === null ? null : readResult(before, null)) ?? (kept && { refined: kept });
  const beside = { isCompared: old !== null, differences: old === null ? [] : differencesOf(old, computed) };
  if (isSetAside(computed))
    return { setAside: computed, captureSha256: null, lengthSec: 0, ...beside, brief: null };
  const { refined, captureSha256 } = computed;
  const lengthSec = (refined.atSec.at(-1) ?? 0) - (refined.atSec[0] ?? 0);
  const { arm: _, ...brief } = briefOf({ session, participant, arm: '' }, computed);
  return { setAside: null, captureSha256, lengthSec, ...beside, brief };
}
