/** Bytes that reached the program in a simulated world, and what is left of them on disk. */
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../src/base/errors.ts';

/** What reached the program during one feed. */
export interface Heard {
  parts: { bytes: Uint8Array; atMs: number }[];
  /** The loss of a part was reported. */
  told: boolean;
  /** Later bytes may have been lost in a kill. */
  sureUntilMs: number;
}

/** Most that a kill may cost, including a check of the time that may be late by a tick. */
export const A_SECOND_MS = 1150;

/** @returns bytes of a capture; none if it was begun and cut off */
export function bytesOf(path: string): Buffer {
  try {
    return Buffer.from(readCapture(path).bytes);
  } catch (error) {
    if (error instanceof PlainError && error.code === 'capture-empty') return Buffer.alloc(0);
    throw error;
  }
}

/** Loses one byte in about a hundred. */
export function withHoles(bytes: Uint8Array, random: () => number): Uint8Array {
  return bytes.filter(() => random() >= 0.005);
}
