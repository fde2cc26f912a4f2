import { describe, expect, it } from 'vitest';
import { CHIP_HZ, EmulatedChip } from '../../firmware-bridge/links/emulated-chip.ts';
import { readIntelHex } from '../../firmware-bridge/links/emulated-hex.ts';
import { DutyMeter, ToneMeter } from '../../firmware-bridge/links/emulated-outputs.ts';
import { EmulatedBench } from '../support/emulated.ts';
import { toHex } from '../support/wire.ts';

describe('the skipping of idle ticks and of sleep', () => {
  it('comes to the same as every tick: bytes, light and tone', () => {
    const told = [false, true].map((everyTick) => {
      const bench = new EmulatedBench({ everyTick, chunkSec: 0.01 });
      bench.beat(true);
      bench.run(0.1);
      bench.level(3, 37);
      bench.level(6, 200);
      bench.sound({ frequencyHz: 523, onMs: 60, offMs: 40, repeats: 2 });
      const bytes: string[] = [];
      for (let i = 1; i <= 40; i++) bytes.push(toHex(bench.sleeve.advance(0.1 + i * 0.01)));
      const { tones } = bench.sleeve;
      // A write to a running timer is taken up to a few cycles sooner or later.
      const rounded = tones.map(({ fromSec, toSec, frequencyHz }) => [
        fromSec.toFixed(6),
        toSec.toFixed(6),
        frequencyHz.toFixed(3),
      ]);
      return JSON.stringify({ bytes, light: bench.sleeve.light(), rounded });
    });
    expect(told[0]).toBe(told[1]);
    expect(told[0]).toContain('f001');
  });
});

describe('Intel HEX', () => {
  // Worked example: record of the Intel HEX format specification (revision A, 1988): length, address, type, data, checksum.
  const EXAMPLE = ':0B0010006164647265737320676170A7';

  it('is read word by word, low byte first, erased where it says nothing', () => {
    const words = readIntelHex(`${EXAMPLE}\n:00000001FF\n`);
    expect(words[8]).toBe(0x6461);
    expect(words[13]).toBe(0xff70);
    expect(words[0]).toBe(0xffff);
    expect(words).toHaveLength(16_384);
  });

  it.each([
    ['a changed digit', EXAMPLE.replace('6164', '6165')],
    ['a cut line', EXAMPLE.slice(0, -2)],
    ['something else', 'hello'],
    ['an address outside the chip', ':01800000007F'],
  ])('with %s is refused, and the line is named', (_, line) => {
    expect(() => readIntelHex(`:00000000${'00'}\n${line}\n:00000001FF\n`)).toThrow(/line 2/);
  });

  it('without its end is refused', () => {
    expect(() => readIntelHex(`${EXAMPLE}\n`)).toThrow(/damaged/);
  });
});

describe('the chip', () => {
  /** RJMP to itself, SLEEP, and so on: opcodes of the "AVR Instruction Set Manual". */
  const chipWith = (...words: number[]): EmulatedChip => {
    const program = new Uint16Array(16_384).fill(0xffff);
    program.set(words);
    const chip = new EmulatedChip(program, () => {});
    chip.reset('power');
    return chip;
  };

  it('counts cycles: a jump to itself takes two', () => {
    const chip = chipWith(0xcfff);
    chip.run(1000);
    expect(chip.cycle).toBe(1000);
    expect(chip.nowSec).toBe(1000 / CHIP_HZ);
  });

  it('sleeps without an interrupt for ever, in no time', () => {
    const chip = chipWith(0x9588, 0xcfff);
    chip.run(3600 * CHIP_HZ);
    expect(chip.parts.cpu.pc).toBe(1);
  });

  it('lets things happen outside when they are due, in their order, asleep or awake or held', () => {
    const chip = chipWith(0x9588, 0xcffe);
    const seen: string[] = [];
    chip.at(200, () => seen.push(`b ${chip.cycle}`));
    chip.at(100, () => seen.push(`a ${chip.cycle}`));
    chip.at(100, () => seen.push('then'));
    chip.run(150);
    expect(seen).toEqual(['a 100', 'then']);
    chip.hold();
    chip.run(300);
    expect(seen.at(-1)).toBe('b 200');
    chip.release('brownOut');
    expect(chip.resets).toEqual({ power: 1, external: 0, brownOut: 1, watchdog: 0 });
    expect(chip.cycle).toBe(300);
  });
});

describe('meters of duty cycle, tone and pulses', () => {
  const PERIOD = 16_384;

  it('of a duty: from edges, or from the level when there are none', () => {
    const meter = new DutyMeter();
    expect(meter.level(0)).toBe(0);
    for (let i = 0; i < 4; i++) {
      meter.set(true, i * PERIOD);
      meter.set(false, i * PERIOD + PERIOD / 4);
    }
    expect(meter.level(3.5 * PERIOD)).toBe(64);
    meter.set(true, 4 * PERIOD);
    expect(meter.level(40 * PERIOD)).toBe(255);
    meter.set(false, 41 * PERIOD);
    expect(meter.level(80 * PERIOD)).toBe(0);
  });

  it('of a tone: pitch, beginning and end', () => {
    const meter = new ToneMeter();
    const half = CHIP_HZ / 880;
    for (let i = 0; i < 100; i++) meter.set(i % 2 === 0, CHIP_HZ + i * half);
    expect(meter.frequencyHz(CHIP_HZ + 100 * half)).toBeCloseTo(440, 6);
    expect(meter.frequencyHz(CHIP_HZ + 102 * half)).toBe(0);
    for (let i = 0; i < 100; i++) meter.set(i % 2 === 0, 2 * CHIP_HZ + (i * half) / 2);
    expect(meter.tones.map(({ frequencyHz }) => Math.round(frequencyHz))).toEqual([440, 880]);
    expect(meter.tones[0]!.toSec).toBeCloseTo(1 + 99 / 880, 6);
  });
});
