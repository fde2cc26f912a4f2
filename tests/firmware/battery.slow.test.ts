/** The battery's voltage at A3: what the chip measures, in both emulators, and how it reaches the host. */
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import {
  createFirmataFramer,
  decodeMessage,
  encodeRequest,
  frameFirmata,
  MESSAGES,
} from '../../firmware-bridge/wire/index.ts';
import { EmulatedBench } from '../support/emulated.ts';
import { secondEmulator } from '../support/second-emulator.ts';
import { fromHex, toHex } from '../support/wire.ts';

const HEX = fileURLToPath(new URL('../../hardware/firmware/sleeve.hex', import.meta.url));
const second = secondEmulator();
afterAll(() => second?.close());

const asked = encodeRequest(MESSAGES.BATTERY);
/** Two steps of a 10-bit reading of 5 V. */
const NEAR_MV = 10;

function millivoltsOf(bench: EmulatedBench): number {
  const from = bench.messages.length;
  bench.send(asked);
  bench.run(0.1);
  const told = bench.messages
    .slice(from)
    .map((hex) => decodeMessage(MESSAGES.BATTERY, fromHex(hex)))
    .find((one) => one !== null);
  return told!.millivolts;
}

describe('the battery’s cell', () => {
  it.each([4200, 3900, 3683, 3000])('of %i mV is told as that', (cellMillivolts) => {
    const bench = new EmulatedBench({ cellMillivolts });
    bench.run(1.5);
    expect(Math.abs(millivoltsOf(bench) - cellMillivolts)).toBeLessThanOrEqual(NEAR_MV);
  });

  it('is 0 before the first reading, and a mean of some 40 s after: one dip under load is no empty battery', () => {
    const bench = new EmulatedBench({ cellMillivolts: 3900 });
    bench.run(0.1);
    expect(millivoltsOf(bench)).toBe(0);
    bench.run(1);
    bench.sleeve.setCell(3300);
    bench.run(0.7);
    expect(millivoltsOf(bench)).toBeGreaterThan(3880);
    bench.run(60);
    expect(millivoltsOf(bench)).toBeLessThan(3500);
  });

  it('is the same where the booster gives less than 5 V', () => {
    const bench = new EmulatedBench({ cellMillivolts: 3700 });
    bench.sleeve.setSupply(4750);
    bench.run(2);
    expect(Math.abs(millivoltsOf(bench) - 3700)).toBeLessThanOrEqual(NEAR_MV);
  });

  it('goes by the reference as it was trimmed', () => {
    const bench = new EmulatedBench({ cellMillivolts: 3700 });
    new DataView(bench.sleeve.chip.eeprom.memory.buffer).setUint16(4, 1150, true);
    bench.sleeve.reset('power');
    bench.run(1.5);
    expect(Math.abs(millivoltsOf(bench) - (3700 * 1150) / 1100)).toBeLessThanOrEqual(NEAR_MV);
  });

  it.skipIf(second === null)('is told alike by the second emulator', () => {
    const stdout = second!.run(HEX, '2', [`1.5:${toHex(asked)}`], 16_000_000, { CELL_MILLIVOLTS: '3650' });
    const framer = createFirmataFramer('sleeve-to-host');
    const heard: number[] = [];
    frameFirmata(framer, fromHex(stdout.slice(0, stdout.indexOf('\n'))), (message) => {
      const told = decodeMessage(MESSAGES.BATTERY, message);
      if (told) heard.push(told.millivolts);
    });
    expect(heard).toHaveLength(1);
    expect(Math.abs(heard[0]! - 3650)).toBeLessThanOrEqual(NEAR_MV);
  });
});
