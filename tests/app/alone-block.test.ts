/** What a sleeve keeps to guide alone, byte by byte; the chip's own reading of it is in tests/firmware. */
import { describe, expect, it } from 'vitest';
import { crc16 } from '../../firmware-bridge/wire/crc.ts';
import { aloneBlock, PLACE_BYTES } from '../../src/app/sleeve/alone-block.ts';
import { BLOCK_BYTES, calibrationBlock } from '../../src/calibration/alone/block.ts';
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
    expect([...block.subarray(0, 6)]).toEqual([2, 300 & 0xff, 4, 3, 2, 1]);
    const pace = Array.from({ length: 6 }, (_, i) => view.getUint16(6 + 2 * i, true) / 64);
    expect(pace).toEqual([8, 18, 14, 6, 15, 30]);
    expect(block[18]).toBe(0b101);
  });

  it('continues with the calibration, its checksum as on the line, and empty bytes to the end', () => {
    const end = 19 + BLOCK_BYTES;
    expect(block.subarray(19, end)).toEqual(calibrationBlock(calibration));
    expect(view.getUint16(end, true)).toBe(crc16(block.subarray(0, end)));
    expect(block).toHaveLength(PLACE_BYTES);
    expect([...block.subarray(end + 2)].every((byte) => byte === 0xff)).toBe(true);
  });
});
