import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { keptHex } from '../../firmware-bridge/links/emulated-sleeve.ts';
import { buildFirmware, COMPILER, compilerVersion } from '../../hardware/firmware/build.ts';
import { GENERATED } from '../../hardware/generate.ts';
import { EmulatedBench } from '../support/emulated.ts';
import { flood, WELL_FORMED } from '../support/hostile-bytes.ts';

/** Of 32 kB; the rest is kept for later versions. */
const MOST_FLASH_BYTES = 28 * 1024;
/** Of 2 kB; includes the deepest stack. */
const MOST_RAM_BYTES = 1700;
const RAM_START = 0x100;
const RAM_BYTES = 2048;
/** More bytes than all variables need; `npm run firmware` prints how many they need. */
const VARIABLES = 1350;

const version = compilerVersion();
const can = version !== null && COMPILER.startsWith(`avr-gcc ${version},`);
const why = version === null ? 'no avr-gcc here' : `avr-gcc ${version} here, not that of ${COMPILER}`;

describe.skipIf(!can)(`the program, built anew${can ? '' : ` (skipped: ${why})`}`, () => {
  it('is the kept sleeve.hex, to the byte (else: npm run firmware)', () => {
    const built = buildFirmware();
    expect(built.hex).toBe(keptHex());
    expect(built.flashBytes).toBeLessThan(MOST_FLASH_BYTES);
  });
});

it('fills less than 28 kB of the flash', () => {
  const bytes = keptHex()
    .split('\n')
    .filter((line) => line.startsWith(':') && line.slice(7, 9) === '00')
    .reduce((sum, line) => sum + Number.parseInt(line.slice(1, 3), 16), 0);
  expect(bytes).toBeGreaterThan(5000);
  expect(bytes).toBeLessThan(MOST_FLASH_BYTES);
});

it('uses less than 1.7 kB of the RAM, stack and all, in its busiest moments', () => {
  const bench = new EmulatedBench();
  const { data } = bench.sleeve.chip.parts.cpu;
  // Bytes that the stack never reaches keep this mark. Variables are cleared before the memory is marked.
  bench.run(0.001);
  const MARK = 0xa5;
  const paintFrom = RAM_START + VARIABLES;
  const stack = data[0x5d]! | (data[0x5e]! << 8);
  data.fill(MARK, paintFrom, stack - 64);
  bench.run(0.3);
  for (const message of WELL_FORMED) bench.send(message);
  bench.send(flood(3000));
  bench.sleeve.accelerometer.holdBus(5);
  bench.sleeve.converters[0]!.fault = { silent: true };
  bench.run(1);
  let used = RAM_START + RAM_BYTES - paintFrom;
  while (data[RAM_START + RAM_BYTES - used] === MARK) used--;
  expect(used).toBeGreaterThan(40);
  expect(VARIABLES + used).toBeLessThan(MOST_RAM_BYTES);
});

for (const { path, text } of GENERATED) {
  it(`${path} is what the pin table makes (else: npm run gen)`, () => {
    const kept = readFileSync(new URL(`../../${path}`, import.meta.url), 'utf8');
    expect(kept).toBe(text());
    expect(kept.split('\n')[0]).toMatch(/Generated/);
  });
}
