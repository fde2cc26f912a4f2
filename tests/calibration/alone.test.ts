/** A calibration as a chip reads it, and what a sleeve kept of its feeds; the chip's own side of both is in tests/firmware. */
import { describe, expect, it } from 'vitest';
import { BLOCK_BYTES, calibrationBlock } from '../../src/calibration/alone/block.ts';
import { aloneFeeds, FEEDS_BYTES } from '../../src/calibration/alone/kept-feeds.ts';
import { parseCalibration } from '../../src/sensing/index.ts';
import { readFixture } from '../support/captures.ts';

const calibration = parseCalibration(readFixture('calm').calibration, 'of the test');
describe('a calibration in the chip’s numbers', () => {
  it('holds the bottle: grams in 64ths, the tip in 100 mm by 2¹⁴', () => {
    const block = calibrationBlock(calibration);
    const view = new DataView(block.buffer);
    expect(block).toHaveLength(BLOCK_BYTES);
    const bottleAt = 12 + 36 + 18 + 6;
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
    const bytes = new Uint8Array(54).fill(0xff);
    const head = [serial, 2, 3, 1, (grams * 16) & 0xff, (grams * 16) >> 8, minutes.length];
    bytes.set([...head, (0x5a - head.reduce((sum, byte) => sum + byte, 0)) & 0xff]);
    bytes.set(minutes, 8);
    return bytes;
  };
  const memory = (...records: Uint8Array[]) => {
    const bytes = new Uint8Array(FEEDS_BYTES).fill(0xff);
    for (const [place, one] of records.entries()) bytes.set(one, 54 * place);
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
