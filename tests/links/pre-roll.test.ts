import { expect, it } from 'vitest';
import { createPreRoll } from '../../firmware-bridge/links/pre-roll.ts';
import { scanAll, streamOf } from '../support/wire.ts';

/** A binary fraction, so that 60 s are reached exactly. */
const CHUNK_SEC = 1 / 32;

it('gives the last 60 s and no more, in order', () => {
  const roll = createPreRoll();
  // Two samples in a chunk; the last chunk comes at 3999/32 s.
  for (let n = 0; n < 4000; n++) roll.push(streamOf(2 * n, 2), n * CHUNK_SEC);
  const { samples, scanner } = scanAll(roll.take());
  expect(scanner.counts.rejected).toBe(0);
  // 60 s are 1920 chunks.
  expect(samples[0]!.sequence).toBe(2 * (3999 - 1920));
  expect(samples.length).toBe(2 * 1921);
  expect(samples.every((sample, i) => sample.sequence === samples[0]!.sequence + i)).toBe(true);
});

it('begins at the start of a message, wherever the chunks were cut', () => {
  const bytes = streamOf(0, 100);
  for (const cut of [1, 30, 31, 32, 40]) {
    const roll = createPreRoll(1);
    roll.push(bytes.subarray(0, cut), 0);
    roll.push(bytes.subarray(cut), 5);
    const kept = roll.take();
    expect(kept[0]).toBe(0xf0);
    expect(scanAll(kept).samples.length).toBe(100 - Math.ceil(cut / 31));
  }
});

it('is bounded whatever the device time says', () => {
  const roll = createPreRoll(60, 1000);
  for (let n = 0; n < 1000; n++) roll.push(streamOf(n, 1), 0);
  expect(roll.length).toBeLessThanOrEqual(1000);
  expect(scanAll(roll.take()).samples.at(-1)!.sequence).toBe(999);
});

it('is empty after it was taken, and keeps copies', () => {
  const roll = createPreRoll();
  const bytes = streamOf(1, 1);
  roll.push(bytes, 0);
  bytes.fill(0);
  expect(scanAll(roll.take()).samples.length).toBe(1);
  expect(roll.take().length).toBe(0);
  roll.push(Uint8Array.of(1, 2, 3), 0);
  expect(roll.take().length).toBe(0);
});
