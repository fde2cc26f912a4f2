import { describe, expect, it } from 'vitest';
import {
  encodeMessage,
  encodeRequest,
  MESSAGES,
  SAMPLE_FLAGS,
  sleeveAnswers,
} from '../../firmware-bridge/wire/index.ts';
import { EmulatedBench, missingIn } from '../support/emulated.ts';
import { flood, mutated, randomBytes, WELL_FORMED } from '../support/hostile-bytes.ts';

/** Checks that no sample was lost or damaged, and that the chip neither reset nor stopped listening. */
function expectUnharmed(bench: EmulatedBench): void {
  bench.run(0.3);
  // Ends a message that was left open, and starts the stream again, since the random bytes may have stopped it.
  bench.send([0xf7], encodeMessage(MESSAGES.STREAM, { on: 1 }), encodeRequest(MESSAGES.IDENTITY));
  const before = bench.identities.length;
  const after = bench.run(0.3);
  expect(bench.identities.length).toBe(before + 1);
  expect(after.length).toBeGreaterThan(20);
  expect(missingIn(bench.samples)).toBe(0);
  expect(bench.samples.filter(({ flags }) => flags & SAMPLE_FLAGS.samplesLost)).toEqual([]);
  expect(bench.scanner.counts.rejected).toBe(0);
  expect(bench.sleeve.chip.resets).toEqual({ power: 1, external: 0, brownOut: 0, watchdog: 0 });
  bench.heartbeat();
  bench.level(5, 99);
  bench.run(0.02);
  expect(bench.sleeve.light().green).toBe(99);
}

const settled = (): EmulatedBench => {
  const bench = new EmulatedBench();
  bench.run(0.2);
  return bench;
};

describe('a host that talks nonsense', () => {
  it.each([1, 2])('random bytes at full line rate (seed %i)', (seed) => {
    const bench = settled();
    bench.send(randomBytes(seed, 6000));
    bench.run(0.6);
    expect(bench.sleeve.line.overruns).toBe(0);
    expectUnharmed(bench);
  });

  it('messages with a byte changed, left out or put in', () => {
    const bench = settled();
    for (let seed = 0; seed < 60; seed++) {
      bench.send(mutated(seed));
      bench.run(0.01);
    }
    expectUnharmed(bench);
  });

  it('messages that never end', () => {
    const bench = settled();
    bench.send([0xf0, 0x04], new Uint8Array(3000).fill(0x11));
    bench.run(0.3);
    expectUnharmed(bench);
  });
});

describe('a flood of questions at full line rate', () => {
  // Each question asks for more bytes than it has: the answers would fill the line thirty times over.
  it('is answered as far as there is room, and no sample is lost', () => {
    const bench = settled();
    bench.send(flood(8000));
    const during = bench.run(0.7);
    expect(during.length).toBeGreaterThanOrEqual(55);
    expect(bench.messages.length).toBeGreaterThan(20);
    expect(bench.sleeve.line.overruns).toBe(0);
    expectUnharmed(bench);
  });

  it('gives every answer whole', () => {
    const bench = settled();
    bench.send(flood(3000));
    bench.run(0.4);
    const whole = new Set([
      'f90205',
      ...[
        sleeveAnswers.firmware('ebbline-sleeve', 0, 2),
        sleeveAnswers.analogMapping(Array.from({ length: 20 }, () => null)),
      ].map((bytes) => Buffer.from(bytes).toString('hex')),
    ]);
    for (const message of bench.messages) {
      if (!message.startsWith('f06c') && !message.startsWith('f002')) expect(whole).toContain(message);
    }
  });
});

it('each of the well-formed messages is understood as such: none resets, deafens or delays the chip', () => {
  const bench = settled();
  for (const bytes of WELL_FORMED) {
    bench.send(bytes);
    bench.run(0.02);
  }
  expectUnharmed(bench);
});
