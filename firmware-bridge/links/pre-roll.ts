/** Holds the latest bytes before a feed, so that its capture can begin before the first latch. */

const MESSAGE_START = 0xf0;

export interface PreRoll {
  /**
   * Adds bytes as they came.
   * @param atSec device time at their end, seconds; never decreases
   */
  push(bytes: Uint8Array, atSec: number): void;
  /** Returns everything held, oldest first, from the first start of a message on, and empties the buffer. */
  take(): Uint8Array;
  /** Bytes held now. */
  readonly length: number;
}

/**
 * @param keepSec device time to hold, seconds
 * @param maxBytes upper limit, whatever the device time; a sleeve sends about 2,500 bytes a second, 3,700 with a gyroscope
 */
export function createPreRoll(keepSec = 60, maxBytes = 512 * 1024): PreRoll {
  let chunks: { bytes: Uint8Array; atSec: number }[] = [];
  let length = 0;

  return {
    get length() {
      return length;
    },
    push(bytes, atSec) {
      // A copy: the sender may use its buffer again.
      chunks.push({ bytes: Uint8Array.from(bytes), atSec });
      length += bytes.length;
      let gone = 0;
      while (gone < chunks.length && (length > maxBytes || chunks[gone]!.atSec < atSec - keepSec)) {
        length -= chunks[gone++]!.bytes.length;
      }
      if (gone > 0) chunks = chunks.slice(gone);
    },
    take() {
      const all = new Uint8Array(length);
      let at = 0;
      for (const { bytes } of chunks) {
        all.set(bytes, at);
        at += bytes.length;
      }
      chunks = [];
      length = 0;
      const start = all.indexOf(MESSAGE_START);
      return start < 0 ? new Uint8Array(0) : all.subarray(start);
    },
  };
}
