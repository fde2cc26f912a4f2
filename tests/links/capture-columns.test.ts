/** Bytes of any kind are unpacked as they were packed, and damaged files are recognized. Seeded. */
import { createHash } from 'node:crypto';
import { brotliDecompressSync, gzipSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  BLOCK_BYTES,
  COLUMNS_HEAD,
  isColumns,
  packBlock,
  unpackColumns,
} from '../../firmware-bridge/links/capture-columns.ts';
import { sleeveAnswers } from '../../firmware-bridge/wire/index.ts';
import { anyMotion, anySample, unsigned } from '../support/any-messages.ts';
import { CAPTURE_NAMES, readFixture, readTurning } from '../support/captures.ts';
import { randomBytes } from '../support/hostile-bytes.ts';
import { fromHex, joined, motionOf, sampleOf, streamOf, toHex, turningStreamOf } from '../support/wire.ts';

const packed = (...blocks: Uint8Array[]): Uint8Array =>
  Buffer.concat([COLUMNS_HEAD, ...blocks.map(packBlock)]);

const FIRST_RELEASE =
  '45424343013a0000004fc35937c209c2c31b4400008480767e7545944096061258e0a924104c6c30d181436e3bb81fe2' +
  '3c50a88fc401ade300a8cc627f95bbc523792dc1e38a86ee136c19';

const whole = anySample.map((sample) => sleeveAnswers.sample(sample));
/** A message with one byte changed (checksum, fill bits, end …), or cut short. */
const broken = fc
  .tuple(fc.oneof(whole, anyMotion), fc.nat(30), unsigned(8), fc.boolean())
  .map(([bytes, at, byte, isCut]) => {
    const copy = Uint8Array.from(bytes);
    copy[at % copy.length] = byte;
    return isCut ? copy.subarray(0, at) : copy;
  });
const noise = fc
  .array(fc.oneof(fc.constantFrom(0xf0, 0x01, 0x06, 0xf7), unsigned(8)), { maxLength: 40 })
  .map((bytes) => Uint8Array.from(bytes));
const line = fc.array(fc.oneof(whole, whole, anyMotion, broken, noise), { maxLength: 40 }).map(joined);

describe('a capture by column', () => {
  it('gives back the very bytes of any line, in any blocks', () => {
    fc.assert(
      fc.property(line, fc.nat(), (bytes, cut) => {
        const at = cut % (bytes.length + 1);
        const unpacked = unpackColumns(packed(bytes.subarray(0, at), bytes.subarray(at)));
        expect(unpacked.isWhole).toBe(true);
        expect(toHex(unpacked.bytes)).toBe(toHex(bytes));
      }),
      { seed: 31, numRuns: 300 },
    );
  });

  it.each([
    ['nothing', new Uint8Array(0)],
    ['noise alone', randomBytes(5, 5000)],
    ['a block filled to the last byte', Buffer.alloc(BLOCK_BYTES, streamOf(65_000, 1000))],
    ['wrapping sequence and time', streamOf(343_500, 200)],
    ['samples with their motions', turningStreamOf(65_000, 1000)],
    ['motions without samples', joined([5, 3, 65_535].map((n) => sleeveAnswers.motion(motionOf(n))))],
    ['fill bits of a motion that are not zero', fillBitsSet(sleeveAnswers.motion(motionOf(7)), 0x70)],
    // The checksum of a sample does not cover its fill bits; a sample encoded again would lose them.
    ['fill bits that are not zero', fillBitsSet(sleeveAnswers.sample(sampleOf(7)))],
  ])('gives back %s', (_what, bytes) => {
    expect(Buffer.from(unpackColumns(packed(bytes)).bytes).equals(bytes)).toBe(true);
  });

  it.each(CAPTURE_NAMES)('takes less than half of what gzip takes (%s)', (name) => {
    const { bytes } = readFixture(name);
    const columns = packed(bytes);
    expect(Buffer.from(unpackColumns(columns).bytes).equals(bytes)).toBe(true);
    expect(columns.length).toBeLessThan(gzipSync(bytes).length / 2);
    // 1.2 MB for 20 minutes, of which rows, cues and the refined pass take 0.25 MB.
    expect(columns.length).toBeLessThan((950_000 * 90) / 1200);
  });

  it('keeps the motions of a sleeve with a gyroscope, in less than half of what gzip takes', () => {
    const { bytes } = readTurning();
    const columns = packed(bytes);
    expect(Buffer.from(unpackColumns(columns).bytes).equals(bytes)).toBe(true);
    expect(columns.length).toBeLessThan(gzipSync(bytes).length / 2);
    // A quarter more than without them.
    expect(columns.length).toBeLessThan((1_250_000 * 20) / 1200);
  });

  it('is laid out as its page says', () => {
    const bytes = joined([
      [0x55],
      sleeveAnswers.sample(sampleOf(3)),
      sleeveAnswers.sample(sampleOf(4)),
      [0xf0],
      sleeveAnswers.motion({ sequence: 4, gyroscope: [1, -1, 0] }),
    ]);
    const file = Buffer.from(packed(bytes));
    expect(file.subarray(0, 5)).toEqual(Buffer.from('EBCC\u0002', 'latin1'));
    expect(file.readUInt32LE(5)).toBe(file.length - 17);
    expect(file.subarray(9, 17)).toEqual(createHash('sha256').update(bytes).digest().subarray(0, 8));
    const body = brotliDecompressSync(file.subarray(17));
    const numbers = Array.from({ length: 9 }, (_, k) => body.readUInt32LE(k * 4));
    expect(numbers).toEqual([79, 2, 2, 2, 1, 0, 1, 2, 1]);
    expect([...body.subarray(36, 38)]).toEqual([0x55, 0xf0]);
    expect([...body.subarray(38, 41)]).toEqual([0, 0, 1]);
    // Sequence: differs from 0 by 3, zigzag 6; then as expected. Time: differs from 0 by 37500, zigzag 75000 = 0x0124f8.
    expect(toHex(body.subarray(41, 53))).toBe(['0600', '0000', 'f800', '2400', '0100', '0000'].join(''));
    expect(toHex(body.subarray(41 + 2 * 22))).toBe(['08', '00', '02', '00', '01', '00', '00', '00'].join(''));
  });

  it('reads what version 1 wrote', () => {
    // Written by the first release: "U", sample 3, sample 4.
    const file = fromHex(FIRST_RELEASE);
    expect(toHex(unpackColumns(file).bytes)).toBe(
      toHex(joined([[0x55], sleeveAnswers.sample(sampleOf(3)), sleeveAnswers.sample(sampleOf(4))])),
    );
  });
});

describe('damage', () => {
  const blocks = [streamOf(0, 300), turningStreamOf(300, 300), streamOf(600, 300)] as const;
  const file = packed(...blocks);
  const upTo = (count: number) => toHex(joined(blocks.slice(0, count)));

  it('anywhere costs its block and what comes after, and is told', () => {
    fc.assert(
      fc.property(fc.nat(file.length - 1), fc.integer({ min: 1, max: 255 }), (at, flip) => {
        // The marks of the two versions differ by 3. If one is changed into the other, the blocks are still recognized as damaged.
        const damaged = Uint8Array.from(file);
        damaged[at]! ^= flip;
        const { bytes, isWhole } = unpackColumns(damaged);
        expect(isWhole).toBe(false);
        expect([upTo(0), upTo(1), upTo(2)]).toContain(toHex(bytes));
      }),
      { seed: 32, numRuns: 200 },
    );
  });

  it('by being cut short is told, and gives the whole blocks before', () => {
    const ends = [COLUMNS_HEAD.length];
    for (const block of blocks) ends.push(ends.at(-1)! + packBlock(block).length);
    for (let length = 0; length < file.length; length++) {
      const { bytes, isWhole } = unpackColumns(file.subarray(0, length));
      const count = Math.max(0, ends.filter((end) => end <= length).length - 1);
      expect([length, isWhole, toHex(bytes) === upTo(count)]).toEqual([length, ends.includes(length), true]);
    }
  });

  it('is not mistaken for a capture by column where there is none', () => {
    expect(isColumns(streamOf(0, 2))).toBe(false);
    expect(isColumns(new Uint8Array(0))).toBe(false);
    expect(isColumns(Uint8Array.of(0x45, 0x42, 0x43, 0x43, 3))).toBe(false);
  });
});

function fillBitsSet(bytes: Uint8Array, mask = 0x78): Uint8Array {
  const copy = Uint8Array.from(bytes);
  copy[copy.length - 2]! |= mask;
  return copy;
}
