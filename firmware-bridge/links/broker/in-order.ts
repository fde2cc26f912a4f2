/** What a receiver has of a stream, and what of a frame is new to it: nothing twice, nothing left out. Pure. */
import type { SleeveFrame } from './frames.ts';

export interface Received {
  stream: string;
  /** Position of the next byte that is wanted. */
  next: number;
  /** Bytes that the relay's log had lost before they could come here. */
  lost: number;
}

export interface InOrder {
  received: Received;
  /** What goes on now. */
  bytes: Uint8Array;
  /** Bytes between what was received and this frame went astray: they are to be asked for. */
  isGap: boolean;
}

const NOTHING = new Uint8Array(0);

/** @param received null before the first frame: it begins wherever that one does */
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
