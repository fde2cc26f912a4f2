import { describe, expect, it } from 'vitest';
import {
  createScanner,
  decodeMessage,
  encodeMessage,
  encodeRequest,
  frameLength,
  MESSAGES,
  type Motion,
  SAMPLE_FLAGS,
  type Sample,
  scan,
} from '../../firmware-bridge/wire/index.ts';
import motionVectors from '../fixtures/motion-vectors.json' with { type: 'json' };
import vectors from '../fixtures/wire-vectors.json' with { type: 'json' };
import { fromHex, toHex } from '../support/wire.ts';

// Source: worked byte examples that come with the sleeve contract, made by a separate encoder.
describe('worked examples of SAMPLE', () => {
  for (const { note, hex, ...sample } of vectors.vectors) {
    it(`${note}: decodes, encodes and scans`, () => {
      expect(decodeMessage(MESSAGES.SAMPLE, fromHex(hex))).toEqual(sample);
      expect(toHex(encodeMessage(MESSAGES.SAMPLE, sample as unknown as Sample))).toBe(hex);
      const found: Sample[] = [];
      scan(createScanner(), fromHex(hex), { sample: (s) => found.push(s) });
      expect(found).toEqual([sample]);
    });
  }
});

// Source: made by a separate encoder (Python's struct and binascii.crc_hqx), the last two taken from a capture of another simulator.
describe('worked examples of MOTION', () => {
  for (const { note, hex, ...motion } of motionVectors.vectors) {
    it(`${note}: decodes, encodes and scans`, () => {
      expect(decodeMessage(MESSAGES.MOTION, fromHex(hex))).toEqual(motion);
      expect(toHex(encodeMessage(MESSAGES.MOTION, motion as unknown as Motion))).toBe(hex);
      const found: Motion[] = [];
      scan(createScanner(), fromHex(hex), { sample: () => {}, motion: (m) => found.push(m) });
      expect(found).toEqual([motion]);
    });
  }
});

describe('the message table', () => {
  it('has the sizes of the sleeve contract, section 2', () => {
    // 22 body bytes + 2 of checksum pack to 28; F0, command and F7 around them.
    expect(frameLength(MESSAGES.SAMPLE)).toBe(31);
    // 8 and 2 pack to 12.
    expect(frameLength(MESSAGES.MOTION)).toBe(15);
    expect(SAMPLE_FLAGS).toEqual({
      axialCellFault: 1,
      frontCellFault: 2,
      rearCellFault: 4,
      accelerometerFault: 8,
      samplesLost: 16,
      buttonDown: 32,
      supplyLow: 64,
      firstAfterReset: 128,
    });
  });

  it('asks for the identity with an empty body', () => {
    expect(toHex(encodeRequest(MESSAGES.IDENTITY))).toBe('f002f7');
  });

  it.each([
    [
      'IDENTITY',
      { contractVersion: 1, firmwareVersion: [0, 3, 17], sleeveNumber: 4_000_000_001, resetCause: 2 },
    ],
    ['STREAM', { on: 1 }],
    ['SOUND', { frequencyHz: 880, onMs: 120, offMs: 65_535, repeats: 3 }],
    ['HEARTBEAT', { guidanceOn: 0 }],
    ['ALONE_PUT', { owner: 4_000_000_001, part: 6, bytes: Array.from({ length: 32 }, (_, i) => 8 * i) }],
    ['ALONE_ORDER', { owner: 7, order: 1 }],
    [
      'ALONE_STATE',
      { layout: 1, flags: 31, generation: 255, parts: 7, refused: 6, feeds: 10, checksum: 65_535 },
    ],
    ['ALONE_GET', { owner: 1, what: 1, part: 17 }],
    ['ALONE_PART', { what: 0, part: 3, bytes: Array.from({ length: 32 }, (_, i) => 255 - i) }],
    ['MOTION', { sequence: 65_535, gyroscope: [-32_768, 0, 32_767] }],
  ] as const)('carries %s there and back', (name, value) => {
    const message = MESSAGES[name];
    const bytes = encodeMessage(message, value as never);
    expect(bytes.length).toBe(frameLength(message));
    expect(decodeMessage(message, bytes)).toEqual(value);
  });

  it('refuses to encode a number that does not fit its field', () => {
    expect(() => encodeMessage(MESSAGES.STREAM, { on: 256 })).toThrow(/0 to 255 for u8, found 256/);
    expect(() =>
      encodeMessage(MESSAGES.SOUND, { frequencyHz: 880.5, onMs: 1, offMs: 1, repeats: 1 }),
    ).toThrow(RangeError);
  });

  it('decodes nothing that is cut, of another kind, or broken', () => {
    const bytes = encodeMessage(MESSAGES.SOUND, { frequencyHz: 440, onMs: 100, offMs: 50, repeats: 2 });
    expect(decodeMessage(MESSAGES.SOUND, bytes.subarray(0, -1))).toBeNull();
    expect(decodeMessage(MESSAGES.STREAM, bytes)).toBeNull();
    for (let i = 0; i < bytes.length; i++) {
      const broken = bytes.slice();
      broken[i]! ^= 0x01;
      // The last packed byte has fill bits, which mean nothing; its bit 0 still belongs to the body.
      expect(decodeMessage(MESSAGES.SOUND, broken)).toBeNull();
    }
  });
});
