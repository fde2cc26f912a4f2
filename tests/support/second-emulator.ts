/** Compiles simavr, a second emulator. Optional: needs a C compiler and the library (Debian: gcc, libsimavr-dev). */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const SOURCE = fileURLToPath(new URL('../firmware/second-emulator.c', import.meta.url));
/** With and without the package that provides the library's name for linking. */
const ELF = ['-lelf', '-l:libelf.so.1'] as const;

export interface SecondEmulator {
  /** @returns its standard output; a program runs for `seconds` (negative: with no device on the I²C bus), with bytes from the host at given times */
  run(
    hexPath: string,
    seconds: string,
    said: readonly string[],
    clockHz?: number,
    more?: Record<string, string>,
  ): string;
  close(): void;
}

/** @returns null if it cannot be compiled */
export function secondEmulator(): SecondEmulator | null {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-second-'));
  const program = join(folder, 'second-emulator');
  const close = (): void => rmSync(folder, { recursive: true });
  const made = ELF.some(
    (elf) => spawnSync('gcc', ['-O2', '-o', program, SOURCE, '-lsimavr', elf, '-lm']).status === 0,
  );
  if (!made) {
    close();
    return null;
  }
  return {
    run: (hexPath, seconds, said, clockHz = 16_000_000, more = {}) =>
      spawnSync(program, [hexPath, seconds, ...said], {
        encoding: 'utf8',
        timeout: 300_000,
        maxBuffer: 64 * 1024 * 1024,
        env: { ...process.env, CHIP_HZ: String(clockHz), ...more },
      }).stdout,
    close,
  };
}
