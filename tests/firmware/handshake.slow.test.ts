import { describe, expect, it } from 'vitest';
import { encodeMessage, encodeRequest, MESSAGES, sleeveAnswers } from '../../firmware-bridge/wire/index.ts';
import { PINS } from '../../hardware/pins.ts';
import { EmulatedBench } from '../support/emulated.ts';
import { fromHex, toHex } from '../support/wire.ts';

const NAME = toHex(sleeveAnswers.firmware('ebbline-sleeve', 0, 2));

describe('after a reset', () => {
  it('says by itself which version, which firmware and who it is', () => {
    const bench = new EmulatedBench({ sleeveNumber: 305_419_896 });
    bench.run(0.05);
    expect(bench.messages.slice(0, 2)).toEqual(['f90205', NAME]);
    expect(bench.identities).toEqual([
      { contractVersion: 2, firmwareVersion: [0, 2, 0], sleeveNumber: 305_419_896, resetCause: 0 },
    ]);
  });

  it.each([
    ['power', 0],
    ['brownOut', 1],
    ['watchdog', 2],
    ['external', 3],
  ] as const)('tells its cause: %s', (cause, number) => {
    const bench = new EmulatedBench();
    bench.run(0.1);
    bench.sleeve.reset(cause);
    bench.run(0.05);
    expect(bench.identities.map(({ resetCause }) => resetCause)).toEqual([0, number]);
  });

  it('gives number 0 while none has been written into it', () => {
    const bench = new EmulatedBench({ sleeveNumber: 0xffffffff });
    bench.run(0.05);
    expect(bench.identities[0]!.sleeveNumber).toBe(0);
  });
});

describe('asked by a Firmata host', () => {
  const bench = new EmulatedBench();
  bench.run(0.1);

  const asked = (...bytes: number[]): string[] => {
    bench.messages.length = 0;
    bench.send(bytes);
    bench.run(0.03);
    return bench.messages;
  };

  it('tells its protocol version', () => expect(asked(0xf9)).toEqual(['f90205']));
  it('tells its firmware', () => expect(asked(0xf0, 0x79, 0xf7)).toEqual([NAME]));

  it('tells what its pins can do, as the pin table has it', () => {
    const modes = PINS.map(({ firmata }) => firmata);
    expect(asked(0xf0, 0x6b, 0xf7)).toEqual([toHex(sleeveAnswers.capabilities(modes))]);
    expect(modes[3]).toEqual([
      { mode: 1, bits: 1 },
      { mode: 3, bits: 8 },
    ]);
    expect(modes[9]).toEqual([]);
  });

  it('has no analog channels', () => {
    expect(asked(0xf0, 0x69, 0xf7)).toEqual([
      toHex(sleeveAnswers.analogMapping(Array.from({ length: 20 }, () => null))),
    ]);
  });

  it('tells the state of a pin: mode and level', () => {
    asked(0xf4, 3, 3);
    asked(0xe3, 200 & 0x7f, 200 >> 7);
    expect(asked(0xf0, 0x6d, 3, 0xf7)).toEqual(['f06e03034801f7']);
    expect(asked(0xf0, 0x6d, 4, 0xf7)).toEqual(['f06e040b01f7']);
    expect(asked(0xf0, 0x6d, 9, 0xf7)).toEqual(['f06e097f00f7']);
    expect(asked(0xf0, 0x6d, 20, 0xf7)).toEqual([]);
  });

  it('tells the button when asked to, at once and at each change: pressed is low', () => {
    expect(asked(0xd0, 1)).toEqual(['901000']);
    bench.messages.length = 0;
    bench.buttonDown = true;
    bench.run(0.1);
    bench.buttonDown = false;
    bench.run(0.1);
    expect(bench.messages).toEqual(['900000', '901000']);
    asked(0xd0, 0);
    bench.buttonDown = true;
    bench.run(0.1);
    bench.buttonDown = false;
    bench.run(0.1);
    expect(bench.messages).toEqual([]);
  });

  it('gives a text back', () => {
    const text = sleeveAnswers.text('good night');
    expect(asked(...text)).toEqual([toHex(text)]);
  });

  it('tells who it is, asked with nothing as well as with the checksum of nothing', () => {
    for (const request of [encodeRequest(MESSAGES.IDENTITY), fromHex('f0027f7f03f7')]) {
      const before = bench.identities.length;
      asked(...request);
      expect(bench.identities).toHaveLength(before + 1);
    }
  });

  it('stops its samples and begins again, and no number is missing in between', () => {
    asked(...encodeMessage(MESSAGES.STREAM, { on: 0 }));
    const last = bench.last.sequence;
    expect(bench.run(0.5)).toEqual([]);
    asked(...encodeMessage(MESSAGES.STREAM, { on: 1 }));
    const [first] = bench.run(0.1);
    expect(bench.samples.find(({ sequence }) => sequence === last + 1)).toBeDefined();
    expect(first!.sequence - last).toBeLessThanOrEqual(4);
  });

  it('has kept sampling all the while', () => {
    expect(bench.scanner.counts.rejected).toBe(0);
    const steps = bench.samples.slice(1).map(({ sequence }, i) => sequence - bench.samples[i]!.sequence);
    expect(new Set(steps)).toEqual(new Set([1]));
  });
});
