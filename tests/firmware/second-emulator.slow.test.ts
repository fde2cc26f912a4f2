/** The kept program in simavr, an emulator that has nothing in common with the other one. */
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { encodeMessage, encodeRequest, MESSAGES, SAMPLE_FLAGS } from '../../firmware-bridge/wire/index.ts';
import { missingIn } from '../support/emulated.ts';
import { secondEmulator } from '../support/second-emulator.ts';
import { fromHex, scanAll, toHex } from '../support/wire.ts';

const HEX = fileURLToPath(new URL('../../hardware/firmware/sleeve.hex', import.meta.url));
const second = secondEmulator();
const isHere = second !== null;
afterAll(() => second?.close());

describe.skipIf(!isHere)(`simavr${isHere ? '' : ' (skipped: no gcc with libsimavr here)'}`, () => {
  let sent = '';
  let pins = '';

  beforeAll(() => {
    const heartbeats = [0.2, 0.9, 1.6].map(
      (atSec) => `${atSec}:${toHex(encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: 1 }))}`,
    );
    const sound = encodeMessage(MESSAGES.SOUND, { frequencyHz: 440, onMs: 400, offMs: 0, repeats: 1 });
    // 255 would take the pin from the timer.
    const stdout = second!.run(HEX, '2', [
      ...heartbeats.slice(0, 1),
      '0.3:f9f079f7f06bf7f069f7f06d03f7',
      '0.5:e34801e50a00e67e01',
      `0.7:${toHex(sound)}`,
      ...heartbeats.slice(1),
      `1.2:${toHex(encodeRequest(MESSAGES.IDENTITY))}`,
    ]);
    const end = stdout.indexOf('\n');
    sent = stdout.slice(0, end);
    pins = stdout.slice(end + 1);
  });

  it('sends samples of the converters’ counts, 80 a second, none lost', () => {
    const { samples, scanner } = scanAll(fromHex(sent));
    expect(samples.length).toBeGreaterThan((2 - 0.06) * 80 - 2);
    expect(scanner.counts.rejected).toBe(0);
    expect(missingIn(samples)).toBe(0);
    for (const { cells } of samples) expect(cells).toEqual([123_456, -654_321, 4_194_303]);
    const steps = samples.slice(1).map(({ timeMicros }, i) => timeMicros - samples[i]!.timeMicros);
    for (const step of steps) expect(Math.abs(step - 12_500)).toBeLessThanOrEqual(100);
  });

  it('reads acceleration and turning over its I²C bus, and sends each motion right behind its sample', () => {
    const { samples, motions, scanner } = scanAll(fromHex(sent));
    const settled = samples.slice(20);
    const turns = new Map(motions.map(({ sequence, gyroscope }) => [sequence, gyroscope]));
    expect(scanner.counts.rejectedMotions).toBe(0);
    for (const { sequence, accelerometer, flags } of settled) {
      const digit = accelerometer[0] - 100;
      expect([0, 1]).toContain(digit);
      expect(accelerometer).toEqual([100 + digit, -200 + digit, 8192 + digit]);
      expect(turns.get(sequence)).toEqual([655 + digit, -5895 + digit, -1 + digit]);
      expect(flags).toBe(0);
    }
  });

  it('flags the accelerometer and sends no motion when nobody is on the bus', () => {
    const stdout = second!.run(HEX, '-0.5', []);
    const { samples, motions } = scanAll(fromHex(stdout.slice(0, stdout.indexOf('\n'))));
    expect(samples.length).toBeGreaterThan(30);
    expect(motions).toEqual([]);
    expect(new Set(samples.slice(1).map(({ flags }) => flags))).toEqual(
      new Set([SAMPLE_FLAGS.accelerometerFault]),
    );
  });

  it('answers a Firmata host, and says who it is', () => {
    for (const answer of ['f90205', 'f06c7f7f7f0101', 'f06a7f7f', 'f06e03']) expect(sent).toContain(answer);
    expect(scanAll(fromHex(sent)).identities).toHaveLength(2);
  });

  it('drives the light to the levels written, and the buzzer to its pitch', () => {
    expect(pins).toContain('duty 200 10 254');
    expect(Number(/tone ([\d.]+)/.exec(pins)?.[1])).toBeCloseTo(440, 0);
  });
});
