/** The same firmware on a chip that shares the converters' clock of 11.0592 MHz: all times and rates are derived from that clock. */
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { keptHex } from '../../firmware-bridge/links/emulated-sleeve.ts';
import { encodeMessage, MESSAGES } from '../../firmware-bridge/wire/index.ts';
import { buildFirmware, COMPILER, compilerVersion } from '../../hardware/firmware/build.ts';
import { ELECTRICAL } from '../../hardware/pins.ts';
import { agesOf, EmulatedBench, missingIn } from '../support/emulated.ts';
import { secondEmulator } from '../support/second-emulator.ts';
import { fromHex, scanAll, toHex } from '../support/wire.ts';

const clockHz = ELECTRICAL.converterClockHz;
const HEX = fileURLToPath(new URL('../../hardware/firmware/sleeve-one-crystal.hex', import.meta.url));
const second = secondEmulator();
afterAll(() => second?.close());
const version = compilerVersion();
const can = version !== null && COMPILER.startsWith(`avr-gcc ${version},`);

it.skipIf(!can)('is kept as it is built (else: npm run firmware)', () => {
  expect(buildFirmware(clockHz).hex).toBe(keptHex('sleeve-one-crystal'));
});

describe('on the emulated chip at 11.0592 MHz', () => {
  const bench = new EmulatedBench({ hex: keptHex('sleeve-one-crystal'), clockHz, chunkSec: 0.001 });
  bench.beat(true);
  bench.run(60);
  const { data } = bench.sleeve.chip.parts.cpu;
  const settled = bench.samples.filter(({ timeMicros }) => timeMicros > 300_000);

  it('has the very rate of the line: 115,200 baud, 0.0 % off', () => {
    // ATmega328P datasheet, "Examples of Baud Rate Setting" at 11.0592 MHz, U2X = 1: 115.2 kbaud is UBRR 11, 0.0 %.
    const UBRR0 = data[0xc4]! | (data[0xc5]! << 8);
    expect(UBRR0).toBe(11);
    expect(clockHz / (8 * (UBRR0 + 1))).toBe(115_200);
  });

  it('clocks its I²C bus near 400 kHz and never faster', () => {
    // "Bit Rate Generator Unit": clock / (16 + 2·TWBR·prescaler).
    const hz = clockHz / (16 + 2 * data[0xb8]! * 4 ** (data[0xb9]! & 3));
    expect(hz).toBeLessThanOrEqual(400_000);
    expect(hz).toBeGreaterThan(380_000);
  });

  it('keeps time over a minute to a step of its clock, and samples 80 a second, none lost', () => {
    expect(bench.scanner.counts.rejected).toBe(0);
    expect(missingIn(bench.samples)).toBe(0);
    const [first, last] = [settled[0]!, settled.at(-1)!];
    const byCrystal = (last.sequence - first.sequence) * 12_500;
    expect(Math.abs(last.timeMicros - first.timeMicros - byCrystal)).toBeLessThanOrEqual(12);
    for (const { cells, timeMicros, flags } of settled) {
      expect(flags).toBe(0);
      const ages = agesOf(cells, timeMicros / 1e6 + 0.0007);
      expect(Math.max(...ages) - Math.min(...ages)).toBeLessThan(300e-6);
      expect(Math.min(...ages)).toBeGreaterThan(-100e-6);
      expect(Math.min(...ages)).toBeLessThan(1e-3);
    }
  });

  it('shows the light’s levels, sounds a pitch, and falls silent 2 s after the last heartbeat', () => {
    bench.level(3, 200);
    bench.level(5, 10);
    bench.sound({ frequencyHz: 440, onMs: 60_000, offMs: 0, repeats: 1 });
    bench.run(0.1);
    expect(bench.sleeve.light()).toEqual({ red: 200, green: 10, blue: 0 });
    expect(bench.sleeve.buzzerHz).toBeCloseTo(440, 0);
    bench.beat(false);
    bench.heartbeat();
    bench.run(1.98);
    expect(bench.sleeve.buzzerHz).toBeCloseTo(440, 0);
    bench.run(0.04);
    expect(bench.sleeve.buzzerHz).toBe(0);
  });
});

describe.skipIf(second === null)('in simavr at 11.0592 MHz', () => {
  it('samples at the same times, at the line’s rate, and sounds the same pitch', () => {
    const heartbeat = toHex(encodeMessage(MESSAGES.HEARTBEAT, { guidanceOn: 1 }));
    const sound = encodeMessage(MESSAGES.SOUND, { frequencyHz: 440, onMs: 400, offMs: 0, repeats: 1 });
    const stdout = second!.run(HEX, '1.5', [`0.2:${heartbeat}`, `0.5:${toHex(sound)}`], clockHz);
    const end = stdout.indexOf('\n');
    const { samples, scanner } = scanAll(fromHex(stdout.slice(0, end)));
    expect(samples.length).toBeGreaterThan((1.5 - 0.06) * 80 - 2);
    expect(scanner.counts.rejected).toBe(0);
    const span = samples.at(-1)!.timeMicros - samples[0]!.timeMicros;
    expect(Math.abs(span / (samples.length - 1) - 12_500)).toBeLessThan(1);
    expect(Number(/tone ([\d.]+)/.exec(stdout.slice(end))?.[1])).toBeCloseTo(440, 0);
  });
});
