/**
 * Finds the sleeve's own messages among the received bytes. It trusts no length and uses nothing with a fault: at each
 * `F0 <our command>` it looks for a whole message of that kind, and on any fault it moves on by one byte and looks again
 * (sleeve contract, section 2). Ordinary Firmata messages are skipped.
 */
import { decodeBody, frameLength, MESSAGE_END, MESSAGE_START } from './codec.ts';
import { crc16 } from './crc.ts';
import {
  type Battery,
  bodyLength,
  CRC_BYTES,
  type Identity,
  MESSAGES,
  type Motion,
  type Sample,
} from './messages.ts';
import { unpack7Into } from './seven-bit.ts';

/** Called with what was found, in the order received. */
export interface WireSink {
  sample(sample: Sample): void;
  /** Belongs to the sample with the same sequence, usually the one before; `stepMotion` joins them. */
  motion?(motion: Motion): void;
  identity?(identity: Identity): void;
  battery?(battery: Battery): void;
}

/**
 * Why a start `F0 01` gave no sample. `endedEarly`: F7 before its place; `highBitInside`: another command byte before
 * the end (another message or a damaged byte); `notTerminated`: no F7 at its place; `badChecksum`;
 * `cutOff`: the input ended within it.
 */
export type RejectionReason = 'endedEarly' | 'highBitInside' | 'notTerminated' | 'badChecksum' | 'cutOff';

export interface ScanCounts {
  bytes: number;
  /** Samples with a correct checksum, including repeated ones (which the timeline drops). */
  samples: number;
  /** Starts `F0 01` that gave no sample; the sum of `rejectedBy`. */
  rejected: number;
  rejectedBy: Record<RejectionReason, number>;
  /** Motions with a correct checksum, whether or not their sample exists. */
  motions: number;
  /** Starts `F0 06` that gave no motion. */
  rejectedMotions: number;
  identities: number;
  /** Starts `F0 02` that gave no identity. */
  rejectedIdentities: number;
  /** BATTERY messages with a correct checksum; damaged ones are skipped, since the next one comes soon. */
  batteries: number;
}

/** Scanner state: the counts, and the last bytes received, never more than one unfinished message. */
export interface Scanner {
  readonly counts: ScanCounts;
  readonly window: Uint8Array;
  windowLength: number;
}

const WINDOW_BYTES = 4096;
const SAMPLE_FRAME_BYTES = frameLength(MESSAGES.SAMPLE);
const SAMPLE_BODY_BYTES = bodyLength(MESSAGES.SAMPLE);
const MOTION_FRAME_BYTES = frameLength(MESSAGES.MOTION);
const MOTION_BODY_BYTES = bodyLength(MESSAGES.MOTION);
const IDENTITY_FRAME_BYTES = frameLength(MESSAGES.IDENTITY);
const BATTERY_FRAME_BYTES = frameLength(MESSAGES.BATTERY);

// Filled and read within one call, so all scanners share them.
const sampleBody = new Uint8Array(SAMPLE_BODY_BYTES + CRC_BYTES);
const motionBody = new Uint8Array(MOTION_BODY_BYTES + CRC_BYTES);
const identityBody = new Uint8Array(bodyLength(MESSAGES.IDENTITY) + CRC_BYTES);
const batteryBody = new Uint8Array(bodyLength(MESSAGES.BATTERY) + CRC_BYTES);

export function createScanner(): Scanner {
  return {
    counts: {
      bytes: 0,
      samples: 0,
      rejected: 0,
      rejectedBy: { endedEarly: 0, highBitInside: 0, notTerminated: 0, badChecksum: 0, cutOff: 0 },
      motions: 0,
      rejectedMotions: 0,
      identities: 0,
      rejectedIdentities: 0,
      batteries: 0,
    },
    window: new Uint8Array(WINDOW_BYTES),
    windowLength: 0,
  };
}

/**
 * Takes the next bytes, in chunks of any size, and passes complete messages to the sink. An unfinished one waits for more bytes and
 * counts as rejected only after a fault or `finishScan`.
 */
export function scan(scanner: Scanner, chunk: Uint8Array, sink: WireSink): void {
  const { window } = scanner;
  scanner.counts.bytes += chunk.length;
  let taken = 0;
  while (taken < chunk.length) {
    const room = Math.min(window.length - scanner.windowLength, chunk.length - taken);
    window.set(chunk.subarray(taken, taken + room), scanner.windowLength);
    taken += room;
    const filled = scanner.windowLength + room;
    const done = scanWindow(scanner, filled, sink);
    window.copyWithin(0, done, filled);
    scanner.windowLength = filled - done;
  }
}

/** End of the input: an unfinished message counts as rejected (`cutOff`). */
export function finishScan(scanner: Scanner): void {
  if (scanner.windowLength >= 2) {
    const command = scanner.window[1];
    if (command === MESSAGES.SAMPLE.id) reject(scanner.counts, 'cutOff');
    else if (command === MESSAGES.MOTION.id) scanner.counts.rejectedMotions++;
    else if (command === MESSAGES.IDENTITY.id) scanner.counts.rejectedIdentities++;
  }
  scanner.windowLength = 0;
}

/** @returns how many of the first `filled` bytes are processed. */
function scanWindow(scanner: Scanner, filled: number, sink: WireSink): number {
  const { window, counts } = scanner;
  let at = 0;
  for (;;) {
    while (at < filled && window[at] !== MESSAGE_START) at++;
    if (at + 1 >= filled) return at;
    const command = window[at + 1];
    if (command === MESSAGES.SAMPLE.id) {
      const fault = faultOf(window, at, SAMPLE_FRAME_BYTES, filled);
      if (fault === 'unfinished') return at;
      const sample = fault === null ? decodeSample(window, at) : null;
      if (sample === null) {
        reject(counts, fault ?? 'badChecksum');
        at++;
      } else {
        counts.samples++;
        sink.sample(sample);
        at += SAMPLE_FRAME_BYTES;
      }
    } else if (command === MESSAGES.MOTION.id) {
      const fault = faultOf(window, at, MOTION_FRAME_BYTES, filled);
      if (fault === 'unfinished') return at;
      const motion = fault === null ? decodeMotion(window, at) : null;
      if (motion === null) {
        counts.rejectedMotions++;
        at++;
      } else {
        counts.motions++;
        sink.motion?.(motion);
        at += MOTION_FRAME_BYTES;
      }
    } else if (command === MESSAGES.IDENTITY.id) {
      const fault = faultOf(window, at, IDENTITY_FRAME_BYTES, filled);
      if (fault === 'unfinished') return at;
      const identity = fault === null ? decodeIdentity(window, at) : null;
      if (identity === null) {
        counts.rejectedIdentities++;
        at++;
      } else {
        counts.identities++;
        sink.identity?.(identity);
        at += IDENTITY_FRAME_BYTES;
      }
    } else if (command === MESSAGES.BATTERY.id) {
      const fault = faultOf(window, at, BATTERY_FRAME_BYTES, filled);
      if (fault === 'unfinished') return at;
      const battery = fault === null ? decodeBattery(window, at) : null;
      if (battery !== null) {
        counts.batteries++;
        sink.battery?.(battery);
      }
      at += battery === null ? 1 : BATTERY_FRAME_BYTES;
    } else {
      at++;
    }
  }
}

function reject(counts: ScanCounts, reason: RejectionReason): void {
  counts.rejected++;
  counts.rejectedBy[reason]++;
}

/** @returns the first fault in the form of a message of `length` bytes at `at`; null if the form is right. */
function faultOf(
  window: Uint8Array,
  at: number,
  length: number,
  filled: number,
): 'unfinished' | 'endedEarly' | 'highBitInside' | 'notTerminated' | null {
  const end = at + length - 1;
  const seen = Math.min(end, filled);
  for (let i = at + 2; i < seen; i++) {
    const byte = window[i]!;
    if (byte > 0x7f) return byte === MESSAGE_END ? 'endedEarly' : 'highBitInside';
  }
  if (filled <= end) return 'unfinished';
  return window[end] === MESSAGE_END ? null : 'notTerminated';
}

/** The generic decoder written out for the two messages that come 80 times a second; a test compares both. */
function decodeSample(window: Uint8Array, at: number): Sample | null {
  const b = sampleBody;
  unpack7Into(b, window, at + 2);
  if (crc16(b, 0, SAMPLE_BODY_BYTES) !== (b[22]! | (b[23]! << 8))) return null;
  return {
    sequence: b[0]! | (b[1]! << 8),
    timeMicros: (b[2]! | (b[3]! << 8) | (b[4]! << 16) | (b[5]! << 24)) >>> 0,
    cells: [i24(b, 6), i24(b, 9), i24(b, 12)],
    accelerometer: [i16(b, 15), i16(b, 17), i16(b, 19)],
    flags: b[21]!,
  };
}

function decodeMotion(window: Uint8Array, at: number): Motion | null {
  const b = motionBody;
  unpack7Into(b, window, at + 2);
  if (crc16(b, 0, MOTION_BODY_BYTES) !== (b[8]! | (b[9]! << 8))) return null;
  return { sequence: b[0]! | (b[1]! << 8), gyroscope: [i16(b, 2), i16(b, 4), i16(b, 6)] };
}

const i16 = (b: Uint8Array, at: number): number => ((b[at]! | (b[at + 1]! << 8)) << 16) >> 16;
const i24 = (b: Uint8Array, at: number): number =>
  ((b[at]! | (b[at + 1]! << 8) | (b[at + 2]! << 16)) << 8) >> 8;

function decodeIdentity(window: Uint8Array, at: number): Identity | null {
  unpack7Into(identityBody, window, at + 2);
  return decodeBody(MESSAGES.IDENTITY, identityBody);
}

function decodeBattery(window: Uint8Array, at: number): Battery | null {
  unpack7Into(batteryBody, window, at + 2);
  return decodeBody(MESSAGES.BATTERY, batteryBody);
}
