/** What was computed of a session as bytes to be kept: JSON, packed, with what it was computed from. */
import { gunzipSync, gzipSync } from 'node:zlib';
import { type Computed, type SessionInput, sha256Of } from './session-result.ts';

interface Kept {
  inputSha256: string;
  computed: Computed;
}

/** Of all that a result rests on besides the program and the capture, which never changes. */
const inputSha256 = ({ feed, protocol }: SessionInput): string => sha256Of(JSON.stringify([feed, protocol]));

export function packedResult(input: SessionInput, computed: Computed): Buffer {
  const kept: Kept = { inputSha256: inputSha256(input), computed };
  return gzipSync(JSON.stringify(kept), { level: 3 });
}

/**
 * @param bytes  as they are kept; null: nothing is
 * @param input  where given, a result of anything else is none
 * @returns null where there is none that can be read
 */
export function resultIn(bytes: Uint8Array | null, input: SessionInput | null): Computed | null {
  if (bytes === null) return null;
  try {
    const kept: Kept = JSON.parse(gunzipSync(bytes).toString());
    return input === null || kept.inputSha256 === inputSha256(input) ? kept.computed : null;
  } catch {
    return null;
  }
}
