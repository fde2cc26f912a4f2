/** What a receiver has of a stream, and which bytes of a frame are new to it: none twice, none left out. Pure. */
import type { SleeveFrame } from './frames.ts';

export interface Received {
  stream: string;
  /** Position of the next byte wanted. */
  next: number;
  /** Bytes that the relay's log lost before they could be sent. */
  lost: number;
}

export interface InOrder {
  received: Received;
  /** The new bytes, in order. */
  bytes: Uint8Array;
  /** Bytes between the last ones and this frame are missing: they must be asked for. */
  isGap: boolean;
}

const NOTHING = new Uint8Array(0);

/** @param received null before the first frame: the stream begins where that frame begins */
export function takeFrame(received: Received | null, frame: SleeveFrame): InOrder {
  const { stream, previous, offset, bytes } = frame;
  const end = offset + bytes.length;
  if (received === null || received.stream !== stream)
    return { received: { stream, next: end, lost: received?.lost ?? 0 }, bytes, isGap: false };
  const { next } = received;
  if (previous > next) return { received, bytes: NOTHING, isGap: true };
  if (end <= next) return { received, bytes: NOTHING, isGap: false };
  const lost = received.lost + Math.max(0, offset - next);
  return {
    received: { stream, next: end, lost },
    bytes: bytes.subarray(Math.max(0, next - offset)),
    isGap: false,
  };
}
