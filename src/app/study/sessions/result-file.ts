/** The result of a session as compressed JSON, with a hash of its input. */
import { gunzipSync, gzipSync } from 'node:zlib';
import { type Computed, type SessionInput, sha256Of } from './session-result.ts';

interface Kept {
  inputSha256: string;
  computed: Computed;
}

/** Hash of everything that a result depends on, except the program and the capture (which never changes). */
const inputSha256 = ({ feed, protocol }: SessionInput): string => sha256Of(JSON.stringify([feed, protocol]));

export function packedResult(input: SessionInput, computed: Computed): Buffer {
  const kept: Kept = { inputSha256: inputSha256(input), computed };
  return gzipSync(JSON.stringify(kept), { level: 3 });
}

/** A newer program may have written another format, which does not count as a result. */
const isComputed = (found: unknown): boolean =>
  typeof found === 'string' ||
  (typeof found === 'object' && found !== null && 'refined' in found && 'indices' in found);

/**
 * @param bytes  as stored; null: nothing is
 * @param input  if given, only a result of the same input counts
 * @returns null if there is no readable result
 */
export function resultIn(bytes: Uint8Array | null, input: SessionInput | null): Computed | null {
  if (bytes === null) return null;
  try {
    const kept: Kept = JSON.parse(gunzipSync(bytes).toString());
    const isOfInput = input === null || kept.inputSha256 === inputSha256(input);
    return isOfInput && isComputed(kept.computed) ? kept.computed : null;
  } catch {
    return null;
  }
}
