/** What a sleeve keeps to guide alone, byte by byte, and what it kept of its feeds; the chip's own reading of both is in tests/firmware. */
import { describe, expect, it } from 'vitest';
import { crc16 } from '../../firmware-bridge/wire/crc.ts';
import { BLOCK_BYTES, calibrationBlock } from '../../src/calibration/alone/block.ts';
import { aloneBlock, blockChecksum, PLACE_BYTES } from '../../src/calibration/alone/kept-block.ts';
import { aloneFeeds, FEEDS_BYTES } from '../../src/calibration/alone/kept-feeds.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { readFixture } from '../support/captures.ts';

const calibration = parseCalibration(readFixture('calm').calibration, 'of the test');
const PROFILE = {
  lasting: { rateMlPerMin: 8, depthMl: 18 },
  pouring: { rateMlPerMin: 14, depthMl: 6 },
  burpMl: 15,
  burpMostMl: 30,
  mayPace: true,
  mayBurp: false,
  maySound: true,
};

describe('the block that a sleeve keeps', () => {
  const block = aloneBlock(calibration, PROFILE, { sleeveNumber: 0x01020304, generation: 300 });
  const view = new DataView(block.buffer);

  it('begins with layout, generation and sleeve, then the pace in 64ths, then what it may say', () => {
    expect([...block.subarray(0, 6)]).toEqual([1, 300 & 0xff, 4, 3, 2, 1]);
    const pace = Array.from({ length: 6 }, (_, i) => view.getUint16(6 + 2 * i, true) / 64);
    expect(pace).toEqual([8, 18, 14, 6, 15, 30]);
    expect(block[18]).toBe(0b101);
  });

  it('goes on with the calibration, its checksum as on the line, and empty bytes to the end', () => {
    const end = 19 + BLOCK_BYTES;
    expect(block.subarray(19, end)).toEqual(calibrationBlock(calibration));
    expect(blockChecksum(block)).toBe(crc16(block.subarray(0, end)));
    expect(block).toHaveLength(PLACE_BYTES);
    expect([...block.subarray(end + 2)].every((byte) => byte === 0xff)).toBe(true);
  });

  it('holds the bottle in the chip’s numbers: grams in 64ths, the tip in 100 mm by 2¹⁴', () => {
    const bottleAt = 19 + 12 + 36 + 18 + 6;
    expect(view.getUint16(bottleAt, true)).toBe(Math.round(calibration.bottle.emptyMassGrams * 64));
    expect(view.getUint16(bottleAt + 4, true)).toBe(
      Math.round((calibration.bottle.teatTipZMm / 100) * 2 ** 14),
    );
  });

  it('is refused for a calibration that does not fit the chip', () => {
    const heavy = { ...calibration, bottle: { ...calibration.bottle, emptyMassGrams: 1100 } };
    expect(() => calibrationBlock(heavy)).toThrow('emptyMassGrams is out of the range of its chip');
  });
});

describe('the feeds that a sleeve kept', () => {
  const record = (serial: number, grams: number, minutes: number[]) => {
    const bytes = new Uint8Array(56).fill(0xff);
    bytes.set([serial, 2, 3, 1, (grams * 16) & 0xff, (grams * 16) >> 8]);
    bytes.set(minutes, 8);
    return bytes;
  };
  const memory = (...records: Uint8Array[]) => {
    const bytes = new Uint8Array(FEEDS_BYTES).fill(0xff);
    for (const [place, one] of records.entries()) bytes.set(one, 56 * place);
    return bytes;
  };

  it('are read oldest first, over the wrap of their numbers; empty places are none', () => {
    const feeds = aloneFeeds(
      memory(record(1, 50, []), record(248, 60, []), record(249, 70, []), record(0, 80, [])),
    );
    expect(feeds.map(({ serial }) => serial)).toEqual([248, 249, 0, 1]);
    expect(aloneFeeds(memory())).toEqual([]);
  });

  it('tell milk in mL, with a wider uncertainty than the host’s', () => {
    const [feed] = aloneFeeds(memory(record(7, 103, [8, 16])));
    expect(feed).toMatchObject({ tooFast: 2, burps: 3, guidedMinutes: 1 });
    expect(feed!.intakeMl).toBeCloseTo(100, 6);
    expect(feed!.intakeSdMl).toBeCloseTo(Math.hypot(3, 5), 6);
    expect(feed!.perMinuteMl).toHaveLength(2);
  });
});
