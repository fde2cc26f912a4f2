import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';
import { createCaptureLink } from '../../firmware-bridge/links/capture-link.ts';
import type { LinkState } from '../../firmware-bridge/links/link.ts';
import { sleeveAnswers } from '../../firmware-bridge/wire/index.ts';
import { createVirtualClock } from '../support/virtual-clock.ts';
import { joined, sampleOf, scanAll, streamOf } from '../support/wire.ts';

const folder = mkdtempSync(join(tmpdir(), 'ebbline-link-'));
afterAll(() => rmSync(folder, { recursive: true }));
function stored(name: string, bytes: Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, bytes);
  return path;
}

async function played(path: string, speed: number) {
  const clock = createVirtualClock();
  const link = createCaptureLink(path, { speed }, clock.scheduler);
  const chunks: Uint8Array[] = [];
  const states: LinkState[] = [];
  let complete = false;
  link.bytes$.subscribe({
    next: (bytes) => chunks.push(bytes),
    complete: () => {
      complete = true;
    },
  });
  link.state$.subscribe((state) => states.push(state));
  await link.open();
  return {
    clock,
    link,
    states,
    chunks,
    all: () => joined(chunks),
    samples: () => scanAll(joined(chunks)).samples.length,
    isComplete: () => complete,
  };
}

// 10 s at 80 a second.
const bytes = streamOf(5000, 800);
const path = stored('ten-seconds.cap.gz', gzipSync(bytes));

describe('pace', () => {
  it.each([1, 4])('follows the device times in the capture, %d times as fast', async (speed) => {
    const { clock, samples, isComplete } = await played(path, speed);
    for (const deviceSec of [1, 2.5, 6]) {
      await clock.advance((deviceSec * 1000) / speed - clock.nowMs);
      // One tick of 25 ms and one look-ahead of about a sample are the play in it.
      expect(Math.abs(samples() - deviceSec * 80)).toBeLessThanOrEqual(2 + 2 * speed);
    }
    expect(isComplete()).toBe(false);
    await clock.advance(10_000 / speed);
    expect(samples()).toBe(800);
    expect(isComplete()).toBe(true);
  });

  it('waits where nothing came from the sleeve', async () => {
    const gap = joined([streamOf(0, 80), sleeveAnswers.sample(sampleOf(480)), streamOf(481, 79)]);
    const { clock, samples } = await played(stored('gap.cap', gap), 1);
    await clock.advance(3000);
    expect(samples()).toBeLessThanOrEqual(82);
    await clock.advance(4200);
    expect(samples()).toBe(160);
  });

  it('as fast as can be takes no time at all', async () => {
    const { clock, all, states, isComplete } = await played(path, Number.POSITIVE_INFINITY);
    await clock.advance(1);
    expect(Buffer.compare(all(), bytes)).toBe(0);
    expect(states.map(({ kind }) => kind)).toEqual(['opening', 'open', 'ended']);
    expect(isComplete()).toBe(true);
  });
});

it('gives every byte as it stands in the file, also broken ones and a last half', async () => {
  const odd = joined([[1, 2, 3, 0xf0, 0x01], bytes, sleeveAnswers.text('x'), bytes.subarray(0, 17)]);
  const { clock, all, link } = await played(stored('odd.cap', odd), 7);
  await clock.advance(5000);
  expect(Buffer.compare(all(), odd)).toBe(0);
  link.write(Uint8Array.of(1));
});

it('says that a capture was cut', async () => {
  const { link, clock, isComplete } = await played(
    stored('cut.cap.gz', gzipSync(bytes).subarray(0, -100)),
    Number.POSITIVE_INFINITY,
  );
  await clock.advance(1);
  expect(link.warnings).toEqual([expect.stringMatching(/cut short/)]);
  expect(isComplete()).toBe(true);
});

it('stops at close', async () => {
  const { clock, link, samples, states, isComplete } = await played(path, 1);
  await clock.advance(1000);
  await link.close();
  const before = samples();
  await clock.advance(5000);
  expect(samples()).toBe(before);
  expect(states.at(-1)).toEqual({ kind: 'ended' });
  expect(isComplete()).toBe(true);
});

it('refuses a file without a single sample', async () => {
  const text = stored('letter.txt', new TextEncoder().encode('Dear capture, '.repeat(100)));
  await expect(createCaptureLink(text).open()).rejects.toMatchObject({
    code: 'capture-no-samples',
    message: expect.stringContaining(text),
  });
  await expect(createCaptureLink(join(folder, 'none.cap')).open()).rejects.toMatchObject({
    code: 'capture-missing',
  });
});
