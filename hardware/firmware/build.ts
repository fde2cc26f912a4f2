/** `npm run firmware`: compiles the sleeve's program into hardware/firmware/*.hex. Needs avr-gcc and avr-libc. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PlainError } from '../../src/base/errors.ts';
import { ELECTRICAL } from '../pins.ts';

const FOLDER = fileURLToPath(new URL('.', import.meta.url));

/** The kept programs: for the usual boards, and for a chip that shares the converters' clock. */
const PROGRAMS = [
  { clockHz: ELECTRICAL.chipClockHz, path: join(FOLDER, 'sleeve.hex') },
  { clockHz: ELECTRICAL.converterClockHz, path: join(FOLDER, 'sleeve-one-crystal.hex') },
] as const;

const COMPILER_FLAGS = [
  `-mmcu=${ELECTRICAL.chip.toLowerCase()}`,
  '-std=gnu11',
  '-Os',
  // Registers are saved by one routine for all: some 2 % of the flash, for some 30 cycles a call.
  '-mcall-prologues',
  // The whole program at once, short calls where they reach: another 5 %, and quicker.
  '-flto',
  '-mrelax',
  '-mstrict-X',
  '-Wall',
  '-Wextra',
  '-Werror',
  '-fshort-enums',
  '-ffunction-sections',
  '-fdata-sections',
  '-Wl,--gc-sections',
];

/** The compiler the kept sleeve.hex was built with; another may give other bytes. */
export const COMPILER = 'avr-gcc 5.4.0, avr-libc 2.0 (Debian 12: gcc-avr, avr-libc)';

export interface FirmwareBuild {
  /** Intel HEX, as it goes onto the chip. */
  hex: string;
  flashBytes: number;
  /** Variables; the stack comes on top. */
  ramBytes: number;
}

/** @returns version of the avr-gcc on this machine, null when there is none. */
export function compilerVersion(): string | null {
  const { status, stdout } = spawnSync('avr-gcc', ['-dumpversion'], { encoding: 'utf8' });
  return status === 0 ? stdout.trim() : null;
}

/**
 * @param clockHz of the chip: whole kilohertz
 * @throws PlainError when the compiler is missing or says no
 */
export function buildFirmware(clockHz: number = ELECTRICAL.chipClockHz): FirmwareBuild {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-firmware-'));
  try {
    const elf = join(folder, 'sleeve.elf');
    const hex = join(folder, 'sleeve.hex');
    const sources = readdirSync(FOLDER)
      .filter((name) => name.endsWith('.c'))
      .sort();
    run('avr-gcc', [...COMPILER_FLAGS, `-DF_CPU=${clockHz}UL`, '-o', elf, ...sources]);
    run('avr-objcopy', ['-O', 'ihex', '-R', '.eeprom', elf, hex]);
    const [, text = 0, data = 0, bss = 0] =
      /^\s*(\d+)\s+(\d+)\s+(\d+)/m.exec(run('avr-size', [elf]))?.map(Number) ?? [];
    return { hex: readFileSync(hex, 'utf8'), flashBytes: text + data, ramBytes: data + bss };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function run(command: string, args: string[]): string {
  const { status, stdout, stderr, error } = spawnSync(command, args, { cwd: FOLDER, encoding: 'utf8' });
  if (status === 0) return stdout;
  throw new PlainError(
    'firmware-build',
    `The firmware could not be built: ${error ? `${command} is missing` : stderr.trim()}.`,
    'Install the compiler for the chip (Debian: apt install gcc-avr avr-libc), or correct the source.',
  );
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const { clockHz, path } of PROGRAMS) {
    const { hex, flashBytes, ramBytes } = buildFirmware(clockHz);
    writeFileSync(path, hex);
    console.log(`wrote ${path}: ${flashBytes} bytes of flash, ${ramBytes} bytes of RAM and the stack`);
  }
}
