/** The kept program in simavr, an emulator that has nothing in common with the other one. */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { encodeMessage, encodeRequest, MESSAGES, SAMPLE_FLAGS } from '../../firmware-bridge/wire/index.ts';
import { aloneBlock } from '../../src/app/sleeve/alone-block.ts';
import { aloneHost } from '../support/alone-host.ts';
import { keepInChip, PACED } from '../support/alone-sleeve.ts';
import { readFixture, samplesOf } from '../support/captures.ts';
import { missingIn } from '../support/emulated.ts';
import { secondEmulator } from '../support/second-emulator.ts';
import { fromHex, scanAll, toHex } from '../support/wire.ts';

const HEX = fileURLToPath(new URL('../../hardware/firmware/sleeve.hex', import.meta.url));
/** Variables of the kept program, as `npm run firmware` prints them. */
const RAM_BYTES = 1324;
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
    // Levels below 255: at 255 the pin is no longer driven by the timer.
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

  describe('guides a poured feed alone', () => {
    const { bytes, calibration } = readFixture('poured');
    const place = mkdtempSync(join(tmpdir(), 'ebbline-alone-'));
    afterAll(() => rmSync(place, { recursive: true }));
    const looks: { atSec: number; green: number; blue: number }[] = [];
    let said = '';

    beforeAll(() => {
      const memory = new Uint8Array(1024).fill(0xff);
      new DataView(memory.buffer).setUint32(0, 1, true);
      keepInChip(memory, aloneBlock(calibration, PACED, { sleeveNumber: 1, generation: 1 }));
      const lines = samplesOf(bytes).map(({ cells, accelerometer }) =>
        [...cells, ...accelerometer].join(' '),
      );
      const [EEPROM, SAMPLES] = [join(place, 'eeprom'), join(place, 'samples')];
      writeFileSync(EEPROM, memory);
      writeFileSync(SAMPLES, `${lines.join('\n')}\n`);
      said = second!.run(HEX, '45', [], 16_000_000, { EEPROM, SAMPLES });
      for (const [, atSec, green, blue] of said.matchAll(/^look ([\d.]+) \d+ (\d+) (\d+)$/gm))
        looks.push({ atSec: Number(atSec), green: Number(green), blue: Number(blue) });
    });

    it('says "too fast" by its light when the same sources do on a computer', () => {
      const host = aloneHost()!;
      const cue = host.run('fixed', bytes, calibration).find(({ cue }) => cue === 'tilt-down')!;
      host.close();
      // Red is fully on here, which this emulator does not report.
      const first = looks.find(({ green, blue }) => green === 96 && blue === 16);
      expect(Math.abs(first!.atSec - cue.atSec)).toBeLessThan(2);
    });

    it('thinks for less than half a period, and has stack to spare', () => {
      // A whole turn of its loop, with interrupts and sending; a sample comes each 12.5 ms.
      expect(Number(/^awake ([\d.]+)$/m.exec(said)![1])).toBeLessThan(0.006);
      // RAM is from 0x100 to 0x8ff.
      const stack = Number(/^stack (\d+)$/m.exec(said)![1]);
      expect(RAM_BYTES + 0x8ff - stack).toBeLessThan(1700);
    });
  });
});
