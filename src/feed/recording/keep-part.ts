/** Writes the data of a feed to its storage. */
import { type HeldFeed, holdBytes, MOST_HELD_BYTES, writeHeld } from '../record/held.ts';
import { tryWrite, writeOrQueue } from '../record/pending-writes.ts';
import type { Recorder } from './recorder.ts';

/** Writes what has come since the last call, once a second. A full disk is reported, and the write is tried again. */
export function keepPart(recorder: Recorder): void {
  const { feed, pending } = recorder;
  if (feed || pending.waiting.length > 0) tryWrite(pending, () => feed && writePart(recorder, feed.held));
}

/** @throws what the storage throws; everything is still held then */
export const writePart = ({ options }: Recorder, held: HeldFeed): void => writeHeld(held, options.storage);

export function hold({ options, unkept }: Recorder, held: HeldFeed, bytes: Uint8Array): void {
  const heldBytes = unkept.reduce((sum, other) => sum + other.heldBytes, held.heldBytes);
  holdBytes(held, bytes, (options.mostHeldBytes ?? MOST_HELD_BYTES) - heldBytes);
}

export function keepToTheEnd(recorder: Recorder, held: HeldFeed, end: () => void): void {
  recorder.unkept.push(held);
  writeOrQueue(recorder.pending, () => {
    writePart(recorder, held);
    end();
    held.over = true;
    recorder.unkept = recorder.unkept.filter((other) => other !== held);
  });
}
