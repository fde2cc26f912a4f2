/** A sleeve that sends a capture's frames again, 80 a second. It ignores the host's messages. */
import type { SleeveModel } from '../../firmware-bridge/links/simulated-link.ts';

const FRAME_BYTES = 31;
const FRAMES_PER_SEC = 80;

/** @param bytes whole SAMPLE messages only */
export function createCapturedSleeve(bytes: Uint8Array): SleeveModel {
  let at = 0;
  return {
    advance(untilSec) {
      const from = at;
      at = Math.min(bytes.length, Math.round(untilSec * FRAMES_PER_SEC) * FRAME_BYTES);
      return bytes.subarray(from, at);
    },
    receive() {},
    get ended() {
      return at >= bytes.length;
    },
  };
}
