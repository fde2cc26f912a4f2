/** One session of an export: its result, taken from a recomputation or computed, and its raw counts as a file. */
import { resultIn } from '../sessions/result-file.ts';
import { type Computed, computeSession, isSetAside, type SessionInput } from '../sessions/session-result.ts';
import { type WrittenFile, writeRawTable } from './raw-table.ts';

export interface ExportJob {
  session: string;
  input: SessionInput;
  /** A result by this same program, if there is one. */
  result: Uint8Array | null;
  /** File for the raw counts; null: not wanted. */
  rawOut: string | null;
  createdBy: string;
}

export interface ExportedSession {
  computed: Computed;
  raw: WrittenFile | null;
}

export function exportSession({ session, input, result, rawOut, createdBy }: ExportJob): ExportedSession {
  const computed = resultIn(result, input) ?? computeSession(input);
  if (isSetAside(computed) || rawOut === null) return { computed, raw: null };
  const { capturePath } = input;
  const { latchSec } = computed;
  return { computed, raw: writeRawTable({ session, capturePath, latchSec, out: rawOut, createdBy }) };
}
