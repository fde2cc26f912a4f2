/** One session of a recomputation: computed, and compared with the earlier result. */
import { briefOf, type SessionBrief } from '../../../research/group/brief.ts';
import type { RefinedFeed } from '../../../sensing/index.ts';
import { packedResult, resultIn } from '../sessions/result-file.ts';
import { type Computed, computeSession, isSetAside, type SessionInput } from '../sessions/session-result.ts';
import { type Difference, differencesOf } from './differences.ts';

export interface RecomputeJob {
  session: string;
  participant: string;
  input: SessionInput;
  /** The result that this run has already; one with the same input is reused. */
  known: Uint8Array | null;
  /** The earlier run's result; null: compare with the store. */
  before: Uint8Array | null;
  kept: RefinedFeed | null;
}

export interface RecomputedSession {
  /** To be kept as the result of this run; null: it is kept already. */
  result: Uint8Array | null;
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
  known,
  before,
  kept,
}: RecomputeJob): RecomputedSession {
  const already = resultIn(known, input);
  const computed = already ?? computeSession(input);
  const result = already === null ? packedResult(input, computed) : null;
  const old = resultIn(before, null) ?? (kept && { refined: kept });
  const beside = { isCompared: old !== null, differences: old === null ? [] : differencesOf(old, computed) };
  if (isSetAside(computed))
    return { result, setAside: computed, captureSha256: null, lengthSec: 0, ...beside, brief: null };
  const { refined, captureSha256 } = computed;
  const lengthSec = (refined.atSec.at(-1) ?? 0) - (refined.atSec[0] ?? 0);
  const { arm: _, ...brief } = briefOf({ session, participant, arm: '' }, computed);
  return { result, setAside: null, captureSha256, lengthSec, ...beside, brief };
}
