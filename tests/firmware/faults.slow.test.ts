import { describe, expect, it } from 'vitest';
import { readIntelHex } from '../../firmware-bridge/links/emulated-hex.ts';
import { keptHex } from '../../firmware-bridge/links/emulated-sleeve.ts';
import { encodeRequest, MESSAGES, SAMPLE_FLAGS } from '../../firmware-bridge/wire/index.ts';
import {
  accelerometerAt,
  agesOf,
  cellsAt,
  EmulatedBench,
  type HeardSample,
  missingIn,
} from '../support/emulated.ts';

const settled = (): EmulatedBench => {
  const bench = new EmulatedBench();
  bench.run(0.5);
  expect(bench.last.flags).toBe(0);
  return bench;
};
const allHave = (samples: HeardSample[], flags: number): boolean =>
  samples.length > 0 && samples.every((sample) => sample.flags === flags);
/** Checks that every count without a fault flag encodes the time of its sample. */
function expectTrueCounts(bench: EmulatedBench, samples: HeardSample[]): void {
  for (const { cells, timeMicros, flags } of samples) {
    const ages = agesOf(cells, timeMicros / 1e6);
    ages.forEach((age, cell) => {
      if (!(flags & (1 << cell))) expect(Math.abs(age)).toBeLessThan(0.0015);
    });
  }
  expect(missingIn(bench.samples)).toBe(0);
  expect(bench.scanner.counts.rejected).toBe(0);
}
const CELLS = [
  [0, SAMPLE_FLAGS.axialCellFault],
  [1, SAMPLE_FLAGS.frontCellFault],
  [2, SAMPLE_FLAGS.rearCellFault],
] as const;

describe('a cell', () => {
  it.each(CELLS)('that falls silent is flagged in the next sample, the others go on (%i)', (cell, flag) => {
    const bench = settled();
    const converter = bench.sleeve.converters[cell]!;
    converter.fault = { silent: true };
    const during = bench.run(1);
    expect(during).toHaveLength(80);
    expect(allHave(during.slice(1), flag)).toBe(true);
    converter.fault = {};
    bench.run(1);
    expect(allHave(bench.run(0.5), 0)).toBe(true);
    expectTrueCounts(bench, bench.samples);
  });

  it('that went to sleep is woken, and set in step with the others', () => {
    const bench = settled();
    bench.sleeve.converters[1]!.fault = { asleep: true };
    bench.run(1.5);
    expect(allHave(bench.run(0.5), 0)).toBe(true);
    expectTrueCounts(bench, bench.samples);
  });

  it.each(CELLS)('at the end of its range is flagged, and no longer when it is back (%i)', (cell, flag) => {
    const bench = settled();
    const converter = bench.sleeve.converters[cell]!;
    converter.fault = { saturated: true };
    const during = bench.run(0.5);
    expect(allHave(during.slice(1), flag)).toBe(true);
    expect(during.at(-1)!.cells[cell]).toBe(0x7fffff);
    converter.fault = {};
    expect(allHave(bench.run(0.5).slice(1), 0)).toBe(true);
  });

  it('whose data line is shorted to ground is flagged, not read as zero', () => {
    const bench = settled();
    bench.sleeve.converters[2]!.fault = { shorted: true };
    const during = bench.run(1);
    expect(allHave(during.slice(1), SAMPLE_FLAGS.rearCellFault)).toBe(true);
    bench.sleeve.converters[2]!.fault = {};
    bench.run(2);
    expect(allHave(bench.run(0.5), 0)).toBe(true);
  });

  it.each([0.01, -0.01])(
    'on a clock of its own (%f) is flagged while out of step, never mixed in',
    (clockOff) => {
      const bench = settled();
      const converter = bench.sleeve.converters[0]!;
      converter.fault = { clockOff };
      const during = bench.run(5);
      // The other cells go on at their rate. Now and then all cells restart, which costs four periods each time.
      expect(during.length).toBeGreaterThan(5 * 80 - 6);
      expect(during.length).toBeLessThan(5 * 80 + 6);
      const flagged = during.filter(({ flags }) => flags & SAMPLE_FLAGS.axialCellFault).length;
      expect(flagged / during.length).toBeGreaterThan(0.5);
      const others = during.filter(({ flags }) => flags & ~SAMPLE_FLAGS.axialCellFault).length;
      expect(others / during.length).toBeLessThan(0.06);
      converter.fault = {};
      bench.run(3);
      expect(allHave(bench.run(0.5), 0)).toBe(true);
      expectTrueCounts(bench, bench.samples);
    },
  );

  it('left alone by the other two still gives samples at its rate', () => {
    const bench = settled();
    bench.sleeve.converters[0]!.fault = { silent: true };
    bench.sleeve.converters[2]!.fault = { silent: true };
    const during = bench.run(1);
    expect(during.length).toBeGreaterThanOrEqual(79);
    expect(allHave(during.slice(2), SAMPLE_FLAGS.axialCellFault | SAMPLE_FLAGS.rearCellFault)).toBe(true);
    expectTrueCounts(bench, during);
  });

  it('is missed in all samples when all are silent; they go on by the chip’s own clock', () => {
    const bench = settled();
    for (const converter of bench.sleeve.converters) converter.fault = { silent: true };
    const during = bench.run(1);
    expect(during.length).toBeGreaterThan(75);
    expect(allHave(during.slice(1), 7)).toBe(true);
    for (const converter of bench.sleeve.converters) converter.fault = {};
    bench.run(2);
    expect(allHave(bench.run(0.5), 0)).toBe(true);
  });
});

describe('the accelerometer', () => {
  const FAULT = SAMPLE_FLAGS.accelerometerFault;

  it.each([
    ['answers nothing', { silent: true }],
    ['has its interrupt line torn off', { noInterrupt: true }],
  ])('that %s is flagged in the next sample', (_, fault) => {
    const bench = settled();
    bench.sleeve.accelerometer.fault = fault;
    expect(allHave(bench.run(1).slice(2), FAULT)).toBe(true);
    bench.sleeve.accelerometer.fault = {};
    bench.run(0.5);
    expect(allHave(bench.run(0.5), 0)).toBe(true);
    expectTrueCounts(bench, bench.samples);
  });

  it('that is stuck is flagged after 0.2 s, and stays so until it moves', () => {
    const bench = settled();
    bench.sleeve.accelerometer.fault = { stuck: true };
    bench.run(0.25);
    expect(allHave(bench.run(2), FAULT)).toBe(true);
    bench.sleeve.accelerometer.fault = {};
    bench.run(0.5);
    expect(allHave(bench.run(0.5), 0)).toBe(true);
  });

  it.each([1, 5, 9])('that holds the bus is made to let go by clock pulses (%i)', (pulses) => {
    const bench = settled();
    bench.sleeve.accelerometer.holdBus(pulses);
    const during = bench.run(0.1);
    expect(during.slice(1).every(({ flags }) => flags === FAULT)).toBe(true);
    bench.run(0.4);
    expect(bench.sleeve.accelerometer.busFreed).toBe(1);
    expect(allHave(bench.run(0.5), 0)).toBe(true);
    expectTrueCounts(bench, bench.samples);
  });

  it('that was set back by its own reset is set up again, not believed at the wrong range', () => {
    const bench = settled();
    const { accelerometer } = bench.sleeve;
    accelerometer.powerCycle();
    bench.run(0.5);
    expect(allHave(bench.run(0.5), 0)).toBe(true);
    expect(accelerometer.registers[0x1c]).toBe(0x08);
  });
});

describe('the gyroscope', () => {
  const motionsIn = (bench: EmulatedBench, sec: number): number => {
    const before = bench.motions.length;
    bench.run(sec);
    return bench.motions.length - before;
  };

  it('that is stuck sends no more motions, and the samples go on; it does again when it moves', () => {
    const bench = settled();
    bench.sleeve.accelerometer.fault = { stuckGyroscope: true };
    bench.run(0.25);
    expect(motionsIn(bench, 0.5)).toBe(0);
    expect(allHave(bench.samples.slice(-40), 0)).toBe(true);
    bench.sleeve.accelerometer.fault = {};
    bench.run(0.05);
    expect(motionsIn(bench, 0.5)).toBeGreaterThanOrEqual(39);
  });

  it('sends none while its accelerometer is flagged', () => {
    const bench = settled();
    bench.sleeve.accelerometer.fault = { silent: true };
    bench.run(0.05);
    expect(motionsIn(bench, 0.5)).toBe(0);
  });

  it.each([0x70, 0x98])(
    'is not asked of a chip that says it is another one (%i): its acceleration is good',
    (whoAmI) => {
      const bench = new EmulatedBench();
      bench.sleeve.accelerometer.fault = { whoAmI };
      bench.run(1);
      expect(bench.motions).toEqual([]);
      expect(allHave(bench.samples.slice(-60), 0)).toBe(true);
    },
  );

  it('is not there in surroundings that know nothing of turning', () => {
    const bench = new EmulatedBench({
      surroundings: {
        at: (atSec) => ({ cells: cellsAt(atSec), accelerometer: accelerometerAt(atSec), buttonDown: false }),
      },
    });
    bench.run(1);
    expect(bench.motions).toEqual([]);
    expect(allHave(bench.samples.slice(-60), 0)).toBe(true);
  });

  it('that was set back by its own reset swings in before it is believed', () => {
    const bench = settled();
    const { accelerometer } = bench.sleeve;
    accelerometer.powerCycle();
    bench.run(0.5);
    expect(accelerometer.registers[0x1b]).toBe(0x08);
    expect(motionsIn(bench, 0.5)).toBeGreaterThanOrEqual(39);
  });
});

describe('the supply', () => {
  it('that is low is flagged, and no longer when it is back', () => {
    const bench = settled();
    bench.sleeve.setSupply(4500);
    expect(allHave(bench.run(0.5).slice(2), SAMPLE_FLAGS.supplyLow)).toBe(true);
    bench.sleeve.setSupply(5000);
    expect(allHave(bench.run(0.5).slice(2), 0)).toBe(true);
  });

  it('under the brown-out level stops the chip; it starts anew and says why', () => {
    const bench = settled();
    bench.sleeve.setSupply(4000);
    bench.run(0.1);
    expect(bench.run(0.3)).toEqual([]);
    bench.sleeve.setSupply(5000);
    const [first] = bench.run(1);
    expect(first!.flags & SAMPLE_FLAGS.firstAfterReset).toBeTruthy();
    expect(first!.sequence).toBe(0);
    expect(bench.identities.at(-1)!.resetCause).toBe(1);
  });
});

describe('the line', () => {
  it('too slow for what is to be sent: the next sample says that some were lost, and their numbers are missing', () => {
    const bench = settled();
    // At 7,812 baud the samples of 1 s take more than 3 s.
    const { data } = bench.sleeve.chip.parts.cpu;
    const UBRRL = 0xc4;
    data[UBRRL] = 255;
    bench.run(0.5);
    data[UBRRL] = 16;
    bench.run(0.5);
    const { samples } = bench;
    const gaps = samples.slice(1).map((sample, i) => missingIn([samples[i]!, sample]));
    expect(gaps.filter((gap) => gap > 0).length).toBeGreaterThan(3);
    samples.slice(1).forEach(({ flags }, i) => {
      expect((flags & SAMPLE_FLAGS.samplesLost) !== 0).toBe(gaps[i]! > 0);
    });
    expect(allHave(samples.slice(-20), 0)).toBe(true);
    expect(bench.scanner.counts.rejected).toBe(0);
  });
});

describe('the chip', () => {
  it.each([0, 1, 2])('reset in mid-feed goes on with true counts (%i)', (round) => {
    const bench = settled();
    bench.run(0.1 + round * 0.0041);
    bench.sleeve.reset('external');
    const resetSec = bench.atSec;
    const after = bench.run(1);
    expect(after[0]!.flags & SAMPLE_FLAGS.firstAfterReset).toBeTruthy();
    for (const { cells, timeMicros, flags } of after) {
      expect(flags & 7).toBe(0);
      for (const age of agesOf(cells, resetSec + timeMicros / 1e6))
        expect(Math.abs(age)).toBeLessThan(0.0015);
    }
    expect(missingIn(after)).toBe(0);
  });

  it('that hangs is started anew by its watchdog', () => {
    // The same program without its WDR instructions (opcode 95A8): as if the main loop hung.
    const lines = keptHex().split('\n');
    const program = readIntelHex(keptHex());
    expect([...program].filter((word) => word === 0x95a8).length).toBeGreaterThan(0);
    const words = [...program].map((word) => (word === 0x95a8 ? 0x0000 : word));
    const bench = new EmulatedBench({ hex: toIntelHex(words.slice(0, lines.length * 8)) });
    bench.run(1);
    expect(bench.sleeve.chip.resets.watchdog).toBeGreaterThanOrEqual(2);
    expect(bench.identities.at(-1)!.resetCause).toBe(2);
  });

  it('answers and samples after all this as on the first day', () => {
    const bench = settled();
    bench.sleeve.reset('watchdog');
    bench.run(0.5);
    bench.send(encodeRequest(MESSAGES.IDENTITY));
    bench.run(0.1);
    expect(bench.identities.map(({ resetCause }) => resetCause)).toEqual([0, 2, 2]);
  });
});

function toIntelHex(words: number[]): string {
  const lines: string[] = [];
  for (let at = 0; at < words.length; at += 8) {
    const bytes = words.slice(at, at + 8).flatMap((word) => [word & 0xff, word >> 8]);
    const record = [bytes.length, (at * 2) >> 8, (at * 2) & 0xff, 0, ...bytes];
    const sum = record.reduce((total, byte) => total + byte, 0);
    lines.push(
      `:${Buffer.from([...record, -sum & 0xff])
        .toString('hex')
        .toUpperCase()}`,
    );
  }
  return [...lines, ':00000001FF', ''].join('\n');
}
