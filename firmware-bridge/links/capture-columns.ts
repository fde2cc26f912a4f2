/**
 * A capture repacked by column: less than half of what gzip needs, and the very bytes come out again. Whole samples of a sleeve are
 * kept as the differences of each of their numbers from the sample before, byte plane by byte plane; all else, broken messages
 * too, stays as it came, with its place. Blocks of a few minutes stand on their own, each with a checksum of the bytes it stands for.
 *
 * Layout, numbers little-endian: "EBCC", version (1 byte), then blocks to the end of the file.
 * Block: length of its body (u32), first 8 bytes of the SHA-256 of the bytes it stands for, body compressed by brotli (RFC 7932).
 * Body: length of the bytes (u32), samples (u32), runs (u32), bytes that are no sample (u32); for each run the samples before it since
 * the last run and its length (u32 each); those bytes; then for each number of a sample (firmware-bridge/PROTOCOL.md, SAMPLE) its byte
 * planes, lowest first. A number's difference from what was expected, modulo its width, is taken as signed and zigzag-coded.
 */
import { createHash } from 'node:crypto';
import { brotliCompressSync, brotliDecompressSync, constants } from 'node:zlib';
import { frameLength, MESSAGE_END, MESSAGE_START } from '../wire/codec.ts';
import { crc16 } from '../wire/crc.ts';
import { FIELD_TYPES } from '../wire/cursor.ts';
import { bodyLength, CRC_BYTES, MESSAGES } from '../wire/messages.ts';
import { unpack7Into } from '../wire/seven-bit.ts';

/** Bytes of the line in one block: some five minutes, so that damage takes no more than that. */
export const BLOCK_BYTES = 768 * 1024;
/** How a file of this kind begins. */
export const COLUMNS_HEAD: Uint8Array = Uint8Array.of(0x45, 0x42, 0x43, 0x43, 1);
const BLOCK_HEAD_BYTES = 12;
const HASH_BYTES = 8;
const BODY_HEAD_BYTES = 16;
/** Beyond this brotli takes ten times as long for one percent. */
const BROTLI_QUALITY = 5;

const FRAME_BYTES = frameLength(MESSAGES.SAMPLE);
const BODY_BYTES = bodyLength(MESSAGES.SAMPLE);
/** What each number is expected to have grown by from one sample to the next; nothing where it does not stand here. */
const GROWTH: Partial<Record<string, number>> = { sequence: 1, timeMicros: 12_500 };

interface Column {
  /** Place in the body, width in bytes. */
  offset: number;
  bytes: number;
  growth: number;
}

const COLUMNS: readonly Column[] = (() => {
  const columns: Column[] = [];
  let offset = 0;
  for (const field of MESSAGES.SAMPLE.fields) {
    const { bytes } = FIELD_TYPES[field.type];
    for (let i = 0; i < ('count' in field ? field.count : 1); i++) {
      columns.push({ offset, bytes, growth: GROWTH[field.name] ?? 0 });
      offset += bytes;
    }
  }
  return columns;
})();

/** True when `stored` begins as a capture by column does. */
export const isColumns = (stored: Uint8Array): boolean => COLUMNS_HEAD.every((byte, i) => stored[i] === byte);

/** Packs at most `BLOCK_BYTES` of the line. The caller puts `COLUMNS_HEAD` before the first block. */
export function packBlock(bytes: Uint8Array): Uint8Array {
  const body = columnsOf(bytes);
  const packed = brotliCompressSync(body, {
    params: {
      [constants.BROTLI_PARAM_QUALITY]: BROTLI_QUALITY,
      [constants.BROTLI_PARAM_SIZE_HINT]: body.length,
    },
  });
  const block = Buffer.alloc(BLOCK_HEAD_BYTES + packed.length);
  block.writeUInt32LE(packed.length, 0);
  block.set(hashOf(bytes), 4);
  block.set(packed, BLOCK_HEAD_BYTES);
  return block;
}

/**
 * @param stored a whole file
 * @returns the bytes of the line up to the first damage; `isWhole` is false when there was any
 */
export function unpackColumns(stored: Uint8Array): { bytes: Uint8Array; isWhole: boolean } {
  const parts: Uint8Array[] = [];
  let at = COLUMNS_HEAD.length;
  let isWhole = isColumns(stored);
  while (isWhole && at < stored.length) {
    const block = unpackBlock(stored, at);
    if (block) {
      parts.push(block.bytes);
      at = block.end;
    } else isWhole = false;
  }
  return { bytes: Buffer.concat(parts), isWhole };
}

/** @returns null when the block at `at` is cut short or damaged */
function unpackBlock(stored: Uint8Array, at: number): { bytes: Uint8Array; end: number } | null {
  const view = Buffer.from(stored.buffer, stored.byteOffset, stored.length);
  if (at + BLOCK_HEAD_BYTES > stored.length) return null;
  const start = at + BLOCK_HEAD_BYTES;
  const end = start + view.readUInt32LE(at);
  if (end > stored.length) return null;
  try {
    const body = brotliDecompressSync(view.subarray(start, end), { maxOutputLength: 4 * BLOCK_BYTES });
    const bytes = bytesOf(body);
    const isSame = Buffer.from(hashOf(bytes)).equals(view.subarray(at + 4, start));
    return isSame ? { bytes, end } : null;
  } catch {
    // Not brotli, or numbers that lead nowhere: damage, whatever its kind.
    return null;
  }
}

const hashOf = (bytes: Uint8Array): Uint8Array =>
  createHash('sha256').update(bytes).digest().subarray(0, HASH_BYTES);

/** Takes the line apart; every loop is plain, there are 80 samples a second. */
function columnsOf(bytes: Uint8Array): Buffer {
  const most = Math.floor(bytes.length / FRAME_BYTES);
  const bodies = new Uint8Array(most * BODY_BYTES);
  const runs: number[] = [];
  const others = new Uint8Array(bytes.length);
  const frame = new Uint8Array(FRAME_BYTES);
  let samples = 0;
  let samplesAtRun = 0;
  let otherBytes = 0;
  let runStart = -1;
  for (let at = 0; at < bytes.length; ) {
    if (isWholeSample(bytes, at, frame)) {
      bodies.set(readBody, samples * BODY_BYTES);
      samples++;
      runStart = -1;
      at += FRAME_BYTES;
    } else {
      if (runStart < 0) {
        runStart = runs.length;
        runs.push(samples - samplesAtRun, 0);
        samplesAtRun = samples;
      }
      runs[runStart + 1]!++;
      others[otherBytes++] = bytes[at++]!;
    }
  }
  const body = Buffer.alloc(BODY_HEAD_BYTES + runs.length * 4 + otherBytes + samples * BODY_BYTES);
  [bytes.length, samples, runs.length / 2, otherBytes].forEach((number, i) => {
    body.writeUInt32LE(number, i * 4);
  });
  runs.forEach((number, i) => {
    body.writeUInt32LE(number, BODY_HEAD_BYTES + i * 4);
  });
  body.set(others.subarray(0, otherBytes), BODY_HEAD_BYTES + runs.length * 4);
  const planes = body.subarray(body.length - samples * BODY_BYTES);
  for (const { offset, bytes: width, growth } of COLUMNS) {
    const shift = 32 - 8 * width;
    let expected = 0;
    for (let i = 0; i < samples; i++) {
      const value = readNumber(bodies, i * BODY_BYTES + offset, width);
      const difference = ((value - expected) << shift) >> shift;
      const zigzag = (difference << 1) ^ (difference >> 31);
      for (let k = 0; k < width; k++) planes[(offset + k) * samples + i] = zigzag >>> (8 * k);
      expected = (value + growth) | 0;
    }
  }
  return body;
}

function bytesOf(body: Buffer): Uint8Array {
  const head = (i: number): number => body.readUInt32LE(i * 4);
  const [length, samples, runCount, otherBytes] = [head(0), head(1), head(2), head(3)];
  if (length > BLOCK_BYTES || length !== samples * FRAME_BYTES + otherBytes) throw new RangeError('lengths');
  const othersAt = BODY_HEAD_BYTES + runCount * 8;
  const planes = body.subarray(othersAt + otherBytes);
  if (planes.length !== samples * BODY_BYTES) throw new RangeError('planes');
  const bodies = new Uint8Array(samples * BODY_BYTES);
  for (const { offset, bytes: width, growth } of COLUMNS) {
    let expected = 0;
    for (let i = 0; i < samples; i++) {
      let zigzag = 0;
      for (let k = 0; k < width; k++) zigzag |= planes[(offset + k) * samples + i]! << (8 * k);
      const value = (expected + ((zigzag >>> 1) ^ -(zigzag & 1))) | 0;
      for (let k = 0; k < width; k++) bodies[i * BODY_BYTES + offset + k] = value >>> (8 * k);
      expected = (readNumber(bodies, i * BODY_BYTES + offset, width) + growth) | 0;
    }
  }
  const bytes = new Uint8Array(length);
  let at = 0;
  let done = 0;
  let otherAt = othersAt;
  const writeSamples = (count: number): void => {
    if (done + count > samples) throw new RangeError('runs');
    for (const end = done + count; done < end; done++, at += FRAME_BYTES) {
      writeFrame(bytes, at, bodies, done * BODY_BYTES);
    }
  };
  for (let run = 0; run < runCount; run++) {
    writeSamples(body.readUInt32LE(BODY_HEAD_BYTES + run * 8));
    const runBytes = body.readUInt32LE(BODY_HEAD_BYTES + run * 8 + 4);
    bytes.set(body.subarray(otherAt, otherAt + runBytes), at);
    at += runBytes;
    otherAt += runBytes;
  }
  writeSamples(samples - done);
  return bytes;
}

// Filled and read again within one call.
const readBody = new Uint8Array(BODY_BYTES);
const withCrc = new Uint8Array(BODY_BYTES + CRC_BYTES);

/** True when a sample lies whole at `at` and writing it anew gives the same bytes; then `readBody` holds its body. */
function isWholeSample(bytes: Uint8Array, at: number, frame: Uint8Array): boolean {
  if (bytes[at] !== MESSAGE_START || bytes[at + 1] !== MESSAGES.SAMPLE.id) return false;
  if (at + FRAME_BYTES > bytes.length || bytes[at + FRAME_BYTES - 1] !== MESSAGE_END) return false;
  unpack7Into(withCrc, bytes, at + 2);
  readBody.set(withCrc.subarray(0, BODY_BYTES));
  writeFrame(frame, 0, readBody, 0);
  for (let i = 2; i < FRAME_BYTES; i++) if (frame[i] !== bytes[at + i]) return false;
  return true;
}

/** The message as the sleeve sends it, checksum and all: `encodeMessage` without numbers in between. */
function writeFrame(target: Uint8Array, at: number, bodies: Uint8Array, bodyAt: number): void {
  const crc = crc16(bodies, bodyAt, bodyAt + BODY_BYTES);
  target[at] = MESSAGE_START;
  target[at + 1] = MESSAGES.SAMPLE.id;
  let out = at + 2;
  let pending = 0;
  let pendingBits = 0;
  for (let i = 0; i < BODY_BYTES + CRC_BYTES; i++) {
    const byte = i < BODY_BYTES ? bodies[bodyAt + i]! : (crc >> (8 * (i - BODY_BYTES))) & 0xff;
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
