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

/** Of all that a result rests on besides the program and the capture, which never changes. */
const inputSha256 = ({ feed, protocol }: SessionInput): string => sha256Of(JSON.stringify([feed, protocol]));

/** Whole or not at all. */
export function writeResult(path: string, input: SessionInput, computed: Computed): void {
  const kept: Kept = { inputSha256: inputSha256(input), computed };
  replaceFile(fs, path, (fd) => writeAll(fs, fd, gzipSync(JSON.stringify(kept), { level: 3 })));
}

/** @param input where given, a result of anything else is none @returns null where there is none that can be read */
export function readResult(path: string, input: SessionInput | null): Computed | null {
  try {
    const kept = ownJson<Kept>(gunzipSync(fs.readFileSync(path)).toString());
    return input === null || kept.inputSha256 === inputSha256(input) ? kept.computed : null;
  } catch {
    return null;
  }
}
