/** Messages as columns of numbers and back: used by `capture-columns.ts` for each kind of message. */
import { frameLength, MESSAGE_END, MESSAGE_START } from '../wire/codec.ts';
import { crc16 } from '../wire/crc.ts';
import { FIELD_TYPES } from '../wire/cursor.ts';
import type { MessageSpec } from '../wire/message-spec.ts';
import { bodyLength, CRC_BYTES, MESSAGES } from '../wire/messages.ts';
import { unpack7Into } from '../wire/seven-bit.ts';

/** Expected increase of each number from one message to the next; 0 for those not listed. */
const GROWTH: Partial<Record<string, number>> = { sequence: 1, timeMicros: 12_500 };

interface Column {
  /** Place in the body and width, both in bytes. */
  offset: number;
  bytes: number;
  growth: number;
}

/** A kind of message stored by column. */
export interface Kind {
  id: number;
  frameBytes: number;
  bodyBytes: number;
  columns: readonly Column[];
}

function kindOf(message: MessageSpec): Kind {
  const columns: Column[] = [];
  let offset = 0;
  for (const field of message.fields) {
    const { bytes } = FIELD_TYPES[field.type];
    for (let i = 0; i < (field.count ?? 1); i++) {
      columns.push({ offset, bytes, growth: GROWTH[field.name] ?? 0 });
      offset += bytes;
    }
  }
  return { id: message.id, frameBytes: frameLength(message), bodyBytes: bodyLength(message), columns };
}

export const SAMPLES = kindOf(MESSAGES.SAMPLE);
export const MOTIONS = kindOf(MESSAGES.MOTION);
/** Index: the number that stands for the kind in the file. */
export const KINDS = [SAMPLES, MOTIONS] as const;

/** Byte planes of the differences from the expected values. */
export function planesOf({ columns, bodyBytes }: Kind, bodies: Uint8Array, count: number): Uint8Array {
  const planes = new Uint8Array(count * bodyBytes);
  for (const { offset, bytes: width, growth } of columns) {
    const shift = 32 - 8 * width;
    let expected = 0;
    for (let i = 0; i < count; i++) {
      const value = readNumber(bodies, i * bodyBytes + offset, width);
      const difference = ((value - expected) << shift) >> shift;
      const zigzag = (difference << 1) ^ (difference >> 31);
      for (let k = 0; k < width; k++) planes[(offset + k) * count + i] = zigzag >>> (8 * k);
      expected = (value + growth) | 0;
    }
  }
  return planes;
}

/** Inverse of `planesOf`. */
export function bodiesOf({ columns, bodyBytes }: Kind, planes: Uint8Array, count: number): Uint8Array {
  const bodies = new Uint8Array(count * bodyBytes);
  for (const { offset, bytes: width, growth } of columns) {
    let expected = 0;
    for (let i = 0; i < count; i++) {
      let zigzag = 0;
      for (let k = 0; k < width; k++) zigzag |= planes[(offset + k) * count + i]! << (8 * k);
      const value = (expected + ((zigzag >>> 1) ^ -(zigzag & 1))) | 0;
      for (let k = 0; k < width; k++) bodies[i * bodyBytes + offset + k] = value >>> (8 * k);
      expected = (readNumber(bodies, i * bodyBytes + offset, width) + growth) | 0;
    }
  }
  return bodies;
}

// Filled and read within one call; the longest message fits.
export const readBody = new Uint8Array(SAMPLES.bodyBytes + CRC_BYTES);
const frame = new Uint8Array(SAMPLES.frameBytes);
const bodyWithCrc = KINDS.map(({ bodyBytes }) => readBody.subarray(0, bodyBytes + CRC_BYTES));

/**
 * @returns number of the kind of a complete message at `at` that can be written again with the same bytes; −1 if there is
 * none. Then `readBody` holds its body.
 */
export function kindAt(bytes: Uint8Array, at: number): number {
  if (bytes[at] !== MESSAGE_START) return -1;
  const number = bytes[at + 1] === SAMPLES.id ? 0 : 1;
  const kind = KINDS[number];
  if (bytes[at + 1] !== kind.id) return -1;
  const { frameBytes } = kind;
  if (at + frameBytes > bytes.length || bytes[at + frameBytes - 1] !== MESSAGE_END) return -1;
  unpack7Into(bodyWithCrc[number]!, bytes, at + 2);
  writeFrame(kind, frame, 0, readBody, 0);
  for (let i = 2; i < frameBytes; i++) if (frame[i] !== bytes[at + i]) return -1;
  return number;
}

/** Writes the message as the sleeve sends it, with checksum: like `encodeMessage`, but directly from the body's bytes. */
export function writeFrame(
  { id, bodyBytes }: Kind,
  target: Uint8Array,
  at: number,
  bodies: Uint8Array,
  bodyAt: number,
): void {
  const crc = crc16(bodies, bodyAt, bodyAt + bodyBytes);
  target[at] = MESSAGE_START;
  target[at + 1] = id;
  let out = at + 2;
  let pending = 0;
  let pendingBits = 0;
  for (let i = 0; i < bodyBytes + CRC_BYTES; i++) {
    const byte = i < bodyBytes ? bodies[bodyAt + i]! : (crc >> (8 * (i - bodyBytes))) & 0xff;
    pending |= byte << pendingBits;
    pendingBits += 8;
    while (pendingBits >= 7) {
      target[out++] = pending & 0x7f;
      pending >>= 7;
      pendingBits -= 7;
    }
  }
  if (pendingBits > 0) target[out++] = pending;
  target[out] = MESSAGE_END;
}

function readNumber(bytes: Uint8Array, at: number, width: number): number {
  let number = 0;
  for (let k = 0; k < width; k++) number |= bytes[at + k]! << (8 * k);
  return number;
}
