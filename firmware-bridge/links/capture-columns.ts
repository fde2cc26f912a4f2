/**
 * A capture repacked by column: less than half of gzip's size, and lossless byte by byte. Each number of whole SAMPLE and MOTION
 * messages is stored as the difference from the message before of the same kind, byte plane by byte plane; all other bytes,
 * also broken messages, are stored unchanged with their position. Blocks of a few minutes are independent, each with a checksum
 * of its original bytes.
 *
 * Layout, numbers little-endian: "EBCC", version (1 byte, 2), then blocks to the end of the file.
 * Block: length of its body (u32), first 8 bytes of the SHA-256 of the original bytes, body compressed by brotli (RFC 7932).
 * Body: length of the bytes (u32), samples (u32), runs (u32), bytes that are in no message (u32), motions (u32); for each run the messages
 * before it since the last run and its length (u32 each); those bytes; for each message its kind (1 byte: 0 sample, 1 motion); then for
 * each number of a sample and after that of a motion (firmware-bridge/PROTOCOL.md) its byte planes, lowest first. A number's difference
 * from what was expected, modulo its width, is taken as signed and zigzag-coded.
 * Version 1, which is still read, had samples only: its body has neither the number of motions nor the kinds.
 */
import { createHash } from 'node:crypto';
import { brotliCompressSync, brotliDecompressSync, constants } from 'node:zlib';
import {
  bodiesOf,
  KINDS,
  kindAt,
  MOTIONS,
  planesOf,
  readBody,
  SAMPLES,
  writeFrame,
} from './message-columns.ts';

/** Original bytes in one block: some five minutes, so that damage costs no more than that. */
export const BLOCK_BYTES = 768 * 1024;
/** First bytes of such a file. */
export const COLUMNS_HEAD: Uint8Array = Uint8Array.of(0x45, 0x42, 0x43, 0x43, 2);
const VERSION_AT = 4;
/** The version that had samples only. */
const SAMPLES_ONLY = 1;
const BLOCK_HEAD_BYTES = 12;
const HASH_BYTES = 8;
/** At higher quality brotli takes ten times as long for one percent. */
const BROTLI_QUALITY = 5;

/** True if `stored` begins like a capture by column. */
export const isColumns = (stored: Uint8Array): boolean =>
  COLUMNS_HEAD.every((byte, i) => stored[i] === byte || (i === VERSION_AT && stored[i] === SAMPLES_ONLY));

/** Packs at most `BLOCK_BYTES`. The caller writes `COLUMNS_HEAD` before the first block. */
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
 * @returns the original bytes up to the first damage; `isWhole` is false if there was any
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

/** @returns null if the block at `at` is incomplete or damaged */
function unpackBlock(stored: Uint8Array, at: number): { bytes: Uint8Array; end: number } | null {
  const view = Buffer.from(stored.buffer, stored.byteOffset, stored.length);
  if (at + BLOCK_HEAD_BYTES > stored.length) return null;
  const start = at + BLOCK_HEAD_BYTES;
  const end = start + view.readUInt32LE(at);
  if (end > stored.length) return null;
  try {
    const body = brotliDecompressSync(view.subarray(start, end), { maxOutputLength: 4 * BLOCK_BYTES });
    const bytes = bytesOf(body, stored[VERSION_AT] !== SAMPLES_ONLY);
    const isSame = Buffer.from(hashOf(bytes)).equals(view.subarray(at + 4, start));
    return isSame ? { bytes, end } : null;
  } catch {
    // Not brotli, or inconsistent numbers: damaged in either case.
    return null;
  }
}

const hashOf = (bytes: Uint8Array): Uint8Array =>
  createHash('sha256').update(bytes).digest().subarray(0, HASH_BYTES);

/** Splits the bytes into columns; plain loops, since there are 160 messages a second. */
function columnsOf(bytes: Uint8Array): Buffer {
  const bodies = KINDS.map(
    ({ frameBytes, bodyBytes }) => new Uint8Array(Math.floor(bytes.length / frameBytes) * bodyBytes),
  );
  const counts = KINDS.map(() => 0);
  const order = new Uint8Array(Math.floor(bytes.length / MOTIONS.frameBytes));
  const runs: number[] = [];
  const others = new Uint8Array(bytes.length);
  let messages = 0;
  let messagesAtRun = 0;
  let otherBytes = 0;
  let runStart = -1;
  for (let at = 0; at < bytes.length; ) {
    const number = kindAt(bytes, at);
    if (number >= 0) {
      const { bodyBytes, frameBytes } = KINDS[number]!;
      bodies[number]!.set(readBody.subarray(0, bodyBytes), counts[number]!++ * bodyBytes);
      order[messages++] = number;
      runStart = -1;
      at += frameBytes;
    } else {
      if (runStart < 0) {
        runStart = runs.length;
        runs.push(messages - messagesAtRun, 0);
        messagesAtRun = messages;
      }
      runs[runStart + 1]!++;
      others[otherBytes++] = bytes[at++]!;
    }
  }
  const [samples, motions] = counts as [number, number];
  const head = [bytes.length, samples, runs.length / 2, otherBytes, motions].concat(runs);
  const headBytes = Buffer.alloc(head.length * 4);
  head.forEach((number, i) => {
    headBytes.writeUInt32LE(number, i * 4);
  });
  return Buffer.concat([
    headBytes,
    others.subarray(0, otherBytes),
    order.subarray(0, messages),
    ...KINDS.map((kind, i) => planesOf(kind, bodies[i]!, counts[i]!)),
  ]);
}

/** @throws RangeError when the numbers are inconsistent */
function bytesOf(body: Buffer, hasMotions: boolean): Uint8Array {
  let from = 0;
  const part = (length: number): Buffer => {
    if (length > body.length - from) throw new RangeError('parts');
    from += length;
    return body.subarray(from - length, from);
  };
  const number = (): number => part(4).readUInt32LE();
  const [length, samples, runCount, otherBytes] = [number(), number(), number(), number()];
  const counts = [samples, hasMotions ? number() : 0] as const;
  const messages = counts[0] + counts[1];
  const told = counts[0] * SAMPLES.frameBytes + counts[1] * MOTIONS.frameBytes + otherBytes;
  if (length > BLOCK_BYTES || length !== told) throw new RangeError('lengths');
  const runs = part(runCount * 8);
  const others = part(otherBytes);
  const order = hasMotions ? part(messages) : new Uint8Array(messages);
  const bodies = KINDS.map((kind, i) => bodiesOf(kind, part(counts[i]! * kind.bodyBytes), counts[i]!));
  if (from !== body.length) throw new RangeError('planes');
  const bytes = new Uint8Array(length);
  const done = KINDS.map(() => 0);
  let at = 0;
  let written = 0;
  let otherAt = 0;
  const writeMessages = (count: number): void => {
    if (written + count > messages) throw new RangeError('runs');
    for (const end = written + count; written < end; written++) {
      const which = order[written]!;
      const kind = KINDS[which];
      if (!kind || done[which]! >= counts[which]!) throw new RangeError('kinds');
      writeFrame(kind, bytes, at, bodies[which]!, done[which]!++ * kind.bodyBytes);
      at += kind.frameBytes;
    }
  };
  for (let run = 0; run < runCount; run++) {
    writeMessages(runs.readUInt32LE(run * 8));
    const runBytes = runs.readUInt32LE(run * 8 + 4);
    bytes.set(others.subarray(otherAt, otherAt + runBytes), at);
    at += runBytes;
    otherAt += runBytes;
  }
  writeMessages(messages - written);
  return bytes;
}
