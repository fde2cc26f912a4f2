/**
 * How a sleeve without a guide gets one. Its relay asks on a topic shared by all workers, so that the broker gives each request to one of them, together
 * with the former guide's checkpoint. Each request has a higher number than the last, and the relay obeys the highest number that answered. Pure.
 */
import { ID_DIGITS } from './frames.ts';

/** The relay asks after two missed messages of its guide and a small margin. */
export const ASK_AFTER_MS = 1250;
/** The relay asks again after this time, since the worker that was asked may be dead too. */
export const ASK_EVERY_MS = 1000;

const VERSION = 1;
const ASKS_HEADER = 5;
const CHECKPOINT_HEADER = ASKS_HEADER + ID_DIGITS / 2;

export interface Wanted {
  epoch: number;
  /** From the last guide; empty: none. */
  checkpoint: Uint8Array;
}

/** A checkpoint that a guide gives its relay to store. */
export interface CheckpointWord extends Wanted {
  /** Id of the guide: 16 hexadecimal digits. */
  guide: string;
}

const viewOf = (bytes: Uint8Array): DataView =>
  new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);

export function encodeWanted({ epoch, checkpoint }: Wanted): Uint8Array {
  const out = new Uint8Array(ASKS_HEADER + checkpoint.length);
  out[0] = VERSION;
  viewOf(out).setUint32(1, epoch, true);
  out.set(checkpoint, ASKS_HEADER);
  return out;
}

/** @returns null if it is not such a message */
export function decodeWanted(bytes: Uint8Array): Wanted | null {
  if (bytes.length < ASKS_HEADER || bytes[0] !== VERSION) return null;
  return { epoch: viewOf(bytes).getUint32(1, true), checkpoint: bytes.subarray(ASKS_HEADER) };
}

export function encodeCheckpointWord({ guide, epoch, checkpoint }: CheckpointWord): Uint8Array {
  const out = new Uint8Array(CHECKPOINT_HEADER + checkpoint.length);
  out.set(encodeWanted({ epoch, checkpoint: new Uint8Array(0) }));
  for (let i = 0; i < ID_DIGITS / 2; i++)
    out[ASKS_HEADER + i] = Number.parseInt(guide.slice(2 * i, 2 * i + 2), 16);
  out.set(checkpoint, CHECKPOINT_HEADER);
  return out;
}

/** @returns null if it is not such a checkpoint */
export function decodeCheckpointWord(bytes: Uint8Array): CheckpointWord | null {
  const head = bytes.length < CHECKPOINT_HEADER ? null : decodeWanted(bytes);
  if (head === null) return null;
  const guide = Array.from(bytes.subarray(ASKS_HEADER, CHECKPOINT_HEADER), (byte) =>
    byte.toString(16).padStart(2, '0'),
  ).join('');
  return { guide, epoch: head.epoch, checkpoint: bytes.subarray(CHECKPOINT_HEADER) };
}
