/** What was computed of a session, kept as a file beside the study: JSON, packed, with what it was computed from. */

import * as fs from 'node:fs';
import { gunzipSync, gzipSync } from 'node:zlib';
import { ownJson } from '../../../base/typed.ts';
import { replaceFile, writeAll } from '../../../store/disk.ts';
import { type Computed, type SessionInput, sha256Of } from './session-result.ts';

interface Kept {
  inputSha256: string;
  computed: Computed;
}

/** Hash of everything that a result depends on, except the program and the capture (which never changes). */
const inputSha256 = ({ feed, protocol }: SessionInput): string => sha256Of(JSON.stringify([feed, protocol]));

/** Writes completely or not at all. */
export function writeResult(path: string, input: SessionInput, computed: Computed): void {
  const kept: Kept = { inputSha256: inputSha256(input), computed };
  replaceFile(fs, path, (fd) => writeAll(fs, fd, gzipSync(JSON.stringify(kept), { level: 3 })));
}

/** A newer program may have written another format, which does not count as a result. */
const isComputed = (found: unknown): boolean =>
  typeof found === 'string' ||
  (typeof found === 'object' && found !== null && 'refined' in found && 'indices' in found);

/** @param input if given, only a result of the same input counts @returns null if there is no readable result */
export function readResult(path: string, input: SessionInput | null): Computed | null {
  try {
    const kept = ownJson<Kept>(gunzipSync(fs.readFileSync(path)).toString());
    const isOfInput = input === null || kept.inputSha256 === inputSha256(input);
    return isOfInput && isComputed(kept.computed) ? kept.computed : null;
  } catch {
    return null;
  }
}
