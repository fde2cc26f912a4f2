import { describe, expect, it } from 'vitest';
import type { LinkState } from '../../firmware-bridge/links/link.ts';
import { createSimulatedLink, type SleeveModel } from '../../firmware-bridge/links/simulated-link.ts';
import { createVirtualClock } from '../support/virtual-clock.ts';

/** Sends one byte for each 12.5 ms of its time: a running number. */
function countingModel(
  endSec = Number.POSITIVE_INFINITY,
): SleeveModel & { reachedSec: number; got: number[] } {
  let sent = 0;
  return {
    reachedSec: 0,
    got: [],
    advance(untilSec) {
      this.reachedSec = untilSec;
      const due = Math.round(Math.min(untilSec, endSec) / 0.0125);
      const bytes = Uint8Array.from({ length: due - sent }, (_, i) => (sent + i) & 0xff);
      sent = due;
      return bytes;
    },
    receive(bytes) {
      this.got.push(...bytes);
    },
    get ended() {
      return this.reachedSec >= endSec;
    },
  };
}

async function opened(model: SleeveModel, options = {}) {
  const clock = createVirtualClock();
  const link = createSimulatedLink(model, options, clock.scheduler);
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
  return { clock, link, chunks, states, isComplete: () => complete };
}
const numbers = (chunks: Uint8Array[]): number[] => chunks.flatMap((chunk) => [...chunk]);

describe('pace', () => {
  it('follows the clock, in chunks of 25 ms', async () => {
    const model = countingModel();
    const { clock, chunks } = await opened(model);
    expect(chunks).toEqual([]);
    await clock.advance(1000);
    expect(model.reachedSec).toBeCloseTo(1, 6);
    expect(numbers(chunks)).toEqual(Array.from({ length: 80 }, (_, i) => i));
    expect(new Set(chunks.map((chunk) => chunk.length))).toEqual(new Set([2]));
  });

  it('runs n times as fast, in chunks of the same device time', async () => {
    const model = countingModel();
    const { clock, chunks } = await opened(model, { speed: 30, chunkSec: 0.05 });
    await clock.advance(2000);
    expect(model.reachedSec).toBeCloseTo(60, 6);
    expect(new Set(chunks.map((chunk) => chunk.length))).toEqual(new Set([4]));
  });

  it('does not rush through the time that the computer slept', async () => {
    const model = countingModel();
    const { clock } = await opened(model);
    await clock.advance(1000);
    // The clock jumps by an hour without a tick, as when a computer sleeps.
    clock.scheduler.now = () => clock.scheduler.frame + 3_600_000;
    await clock.advance(100);
    expect(model.reachedSec).toBeGreaterThan(1.1);
    expect(model.reachedSec).toBeLessThan(2.2);
  });

  it('refuses a speed that is no speed', () => {
    expect(() => createSimulatedLink(countingModel(), { speed: 0 })).toThrow(RangeError);
    expect(() => createSimulatedLink(countingModel(), { speed: Number.NaN })).toThrow(RangeError);
  });
});

describe('the cable', () => {
  it('loses bytes both ways while it is out, and the sleeve runs on', async () => {
    const model = countingModel();
    const { clock, link, chunks, states } = await opened(model);
    await clock.advance(100);
    link.write(Uint8Array.of(1));
    link.unplug();
    link.unplug();
    link.write(Uint8Array.of(2));
    await clock.advance(100);
    link.replug();
    link.write(Uint8Array.of(3));
    await clock.advance(100);
    expect(model.got).toEqual([1, 3]);
    expect(numbers(chunks)).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 16, 17, 18, 19, 20, 21, 22, 23]);
    expect(states.map(({ kind }) => kind)).toEqual(['opening', 'open', 'lost', 'open']);
  });
});

describe('the end', () => {
  it('comes with the model: bytes and state complete', async () => {
    const { clock, chunks, states, isComplete } = await opened(countingModel(0.5));
    await clock.advance(2000);
    expect(numbers(chunks).length).toBe(40);
    expect(states.at(-1)).toEqual({ kind: 'ended' });
    expect(isComplete()).toBe(true);
  });

  it('comes with close, once; nothing is sent after', async () => {
    const model = countingModel();
    const { clock, link, chunks, states, isComplete } = await opened(model);
    await clock.advance(50);
    await link.close();
    await link.close();
    link.write(Uint8Array.of(9));
    await clock.advance(500);
    expect(chunks.length).toBe(2);
    expect(model.got).toEqual([]);
    expect(states.filter(({ kind }) => kind === 'ended').length).toBe(1);
    expect(isComplete()).toBe(true);
  });

  it('is told to whoever asks late', async () => {
    const { link } = await opened(countingModel());
    await link.close();
    const late: LinkState[] = [];
    link.state$.subscribe((state) => late.push(state));
    expect(late).toEqual([{ kind: 'ended' }]);
  });
});
