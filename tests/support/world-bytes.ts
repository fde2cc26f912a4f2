/** What reached the program in a world, and what is left of it on the disk. */
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../src/base/errors.ts';

/** What reached the program of one feed. */
export interface Heard {
  parts: { bytes: Uint8Array; atMs: number }[];
  /** The loss of some was told. */
  told: boolean;
  /** What came later a kill may have cost. */
  sureUntilMs: number;
}

/** What a cut costs at most, and the look at the time that may be late by a tick. */
export const A_SECOND_MS = 1150;

/** @returns the bytes of a capture; none of one that was begun and cut */
export function bytesOf(path: string): Buffer {
  try {
    return Buffer.from(readCapture(path).bytes);
  } catch (error) {
    if (error instanceof PlainError && error.code === 'capture-empty') return Buffer.alloc(0);
    throw error;
  }
}

/** One byte in some hundred is lost on the way. */
export function withHoles(bytes: Uint8Array, random: () => number): Uint8Array {
  return bytes.filter(() => random() >= 0.005);
}
