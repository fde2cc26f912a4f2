import { describe, expect, it } from 'vitest';
import {
  createScanner,
  decodeMessage,
  finishScan,
  MESSAGES,
  scan,
  sleeveAnswers,
} from '../../firmware-bridge/wire/index.ts';
import { joined, motionOf, sampleOf, scanAll, streamOf, turningStreamOf } from '../support/wire.ts';

const A = sampleOf(1);
const B = sampleOf(2);
const a = sleeveAnswers.sample(A);
const b = sleeveAnswers.sample(B);
const flipped = (bytes: Uint8Array, at: number, mask = 0x10): Uint8Array => {
  const copy = bytes.slice();
  copy[at]! ^= mask;
  return copy;
};

describe('whole and split messages', () => {
  it('finds a sample that comes one byte at a time', () => {
    expect(scanAll(...[...a].map((byte) => Uint8Array.of(byte))).samples).toEqual([A]);
  });

  it('finds both samples at each split point', () => {
    const both = joined([a, b]);
    for (let cut = 0; cut <= both.length; cut++) {
      const { samples, scanner } = scanAll(both.subarray(0, cut), both.subarray(cut));
      expect(samples).toEqual([A, B]);
      expect(scanner.counts.rejected).toBe(0);
    }
  });

  it('finds more samples in one chunk than its window holds bytes', () => {
    const { samples } = scanAll(streamOf(0, 1000));
    expect(samples.map((s) => s.sequence)).toEqual(Array.from({ length: 1000 }, (_, i) => i));
  });

  it('starts inside a message: the half at the start is no start and no rejection', () => {
    const { samples, scanner } = scanAll(joined([a.subarray(9), b]));
    expect(samples).toEqual([B]);
    expect(scanner.counts.rejected).toBe(0);
  });

  it('gives each sample cells of its own', () => {
    const { samples } = scanAll(joined([a, b]));
    samples[0]!.cells[0] = 7;
    expect(samples[1]!.cells[0]).toBe(B.cells[0]);
  });
});

describe('faults', () => {
  const cases = [
    ['noise first', joined([[0x55, 0xf0, 0xf7, 0x01, 0xff, 0xf0], a]), [A], {}],
    ['a bad checksum, then a good one', joined([flipped(a, 12), b]), [B], { badChecksum: 1 }],
    ['a false start just before', joined([[0xf0, 0x01], a]), [A], { highBitInside: 1 }],
    ['a message cut by the next', joined([a.subarray(0, 17), b]), [B], { highBitInside: 1 }],
    ['a message cut by its end', joined([a.subarray(0, 17), [0xf7], b]), [B], { endedEarly: 1 }],
    ['over-long', joined([a.subarray(0, 30), [0x11, 0xf7], b]), [B], { notTerminated: 1 }],
    ['end byte lost', joined([a.subarray(0, 30), b]), [B], { notTerminated: 1 }],
    ['a byte with its high bit set', joined([flipped(a, 20, 0x80), b]), [B], { highBitInside: 1 }],
    ['input ends inside', joined([a, b.subarray(0, 30)]), [A], { cutOff: 1 }],
    ['input ends after a start', joined([a, [0xf0, 0x01]]), [A], { cutOff: 1 }],
    ['input ends before the command is known', joined([a, [0xf0]]), [A], {}],
  ] as const;
  for (const [name, bytes, samples, rejectedBy] of cases) {
    it(`${name}: gives the good ones and counts the reason`, () => {
      const found = scanAll(bytes);
      expect(found.samples).toEqual(samples);
      expect(found.scanner.counts.rejectedBy).toEqual({
        endedEarly: 0,
        highBitInside: 0,
        notTerminated: 0,
        badChecksum: 0,
        cutOff: 0,
        ...rejectedBy,
      });
      const sum = Object.values(found.scanner.counts.rejectedBy).reduce((x, y) => x + y, 0);
      expect(found.scanner.counts.rejected).toBe(sum);
      // The same bytes one by one give the same counts.
      const bytewise = scanAll(...[...bytes].map((byte) => Uint8Array.of(byte)));
      expect(bytewise.scanner.counts).toEqual(found.scanner.counts);
    });
  }

  it('moves on by one byte only: a good sample right inside a broken one is found', () => {
    // The broken start claims 31 bytes; the good message begins at its fifth.
    const { samples } = scanAll(joined([[0xf0, 0x01, 0x00, 0x00], a]));
    expect(samples).toEqual([A]);
  });

  it('does not count an unfinished start before the input ends', () => {
    const scanner = createScanner();
    scan(scanner, a.subarray(0, 30), { sample: () => {} });
    expect(scanner.counts.rejected).toBe(0);
    finishScan(scanner);
    finishScan(scanner);
    expect(scanner.counts.rejectedBy.cutOff).toBe(1);
  });

  it('never holds more than one unfinished message', () => {
    const scanner = createScanner();
    const endless = new Uint8Array(100_000).fill(0x01);
    endless[0] = 0xf0;
    for (let i = 0; i < 10; i++) {
      scan(scanner, endless, { sample: () => {} });
      expect(scanner.windowLength).toBeLessThan(31);
    }
    expect(scanner.counts.rejected).toBe(10);
  });
});

describe('among other messages', () => {
  const identity = {
    contractVersion: 1,
    firmwareVersion: [0, 1, 0],
    sleeveNumber: 4711,
    resetCause: 0,
  } satisfies Parameters<typeof sleeveAnswers.identity>[0];

  it('passes over ordinary Firmata messages and unknown ones of ours', () => {
    const { samples, scanner } = scanAll(
      joined([
        sleeveAnswers.protocolVersion(2, 5),
        sleeveAnswers.firmware('ebbline-sleeve', 0, 1),
        a,
        [0xf0, 0x0a, 1, 2, 3, 0xf7],
        sleeveAnswers.digitalPort(0, 0x10),
        sleeveAnswers.text('hello'),
        b,
      ]),
    );
    expect(samples).toEqual([A, B]);
    expect(scanner.counts.rejected).toBe(0);
  });

  it('tells of an identity whose checksum holds, and of no other', () => {
    const good = sleeveAnswers.identity(identity);
    const found = scanAll(joined([flipped(good, 5), good, a, good.subarray(0, 6)]));
    expect(found.identities).toEqual([identity]);
    expect(found.samples).toEqual([A]);
    expect(found.scanner.counts).toMatchObject({ identities: 1, rejectedIdentities: 2, rejected: 0 });
  });
});

describe('motions', () => {
  const M = motionOf(1);
  const m = sleeveAnswers.motion(M);

  it('are found behind their samples at each split point', () => {
    const both = joined([a, m, b]);
    for (let cut = 0; cut <= both.length; cut++) {
      const { samples, motions, scanner } = scanAll(both.subarray(0, cut), both.subarray(cut));
      expect([samples, motions]).toEqual([[A, B], [M]]);
      expect(scanner.counts).toMatchObject({ samples: 2, motions: 1, rejected: 0, rejectedMotions: 0 });
    }
  });

  const cases = [
    ['a bad checksum', joined([a, flipped(m, 5), b]), 1],
    ['cut by the next sample', joined([a, m.subarray(0, 9), b]), 1],
    ['cut by its end', joined([a, m.subarray(0, 9), [0xf7], b]), 1],
    ['over-long', joined([a, m.subarray(0, 14), [0x11, 0xf7], b]), 1],
    ['a byte with its high bit set', joined([a, flipped(m, 4, 0x80), b]), 1],
    ['a false start before a sample', joined([a, [0xf0, 0x06], b]), 1],
    ['noise in its place', joined([a, [0x06, 0x55, 0xf7, 0xf0, 0x55], b]), 0],
  ] as const;
  it.each(cases)('%s: give none, cost no sample, and are no rejected sample', (_, bytes, rejectedMotions) => {
    const found = scanAll(bytes);
    expect(found.motions).toEqual([]);
    expect(found.samples).toEqual([A, B]);
    expect(found.scanner.counts).toMatchObject({ rejected: 0, motions: 0, rejectedMotions });
    const bytewise = scanAll(...[...bytes].map((byte) => Uint8Array.of(byte)));
    expect(bytewise.scanner.counts).toEqual(found.scanner.counts);
  });

  it('that the input cuts off are counted as theirs', () => {
    const { scanner } = scanAll(joined([a, m.subarray(0, 14)]));
    expect(scanner.counts).toMatchObject({ rejected: 0, rejectedMotions: 1 });
  });

  it('are found right inside a broken one: the scanner moves on by one byte only', () => {
    expect(scanAll(joined([[0xf0, 0x06, 0x00], m])).motions).toEqual([M]);
    expect(scanAll(joined([[0xf0, 0x01, 0x00], m])).motions).toEqual([M]);
  });

  it('by the thousand are found in one chunk', () => {
    const { samples, motions } = scanAll(turningStreamOf(65_000, 1000));
    expect(motions.map(({ sequence }) => sequence)).toEqual(samples.map(({ sequence }) => sequence));
    expect(motions).toHaveLength(1000);
  });

  it('decode exactly as the decoder that follows the table', () => {
    for (let n = -32_768; n < 32_768; n += 127) {
      const bytes = sleeveAnswers.motion({ sequence: n + 32_768, gyroscope: [n, -n - 1, n ^ 0x5555] });
      expect(scanAll(bytes).motions[0]).toEqual(decodeMessage(MESSAGES.MOTION, bytes));
    }
  });
});

it('decodes exactly as the decoder that follows the table, over the range of every field', () => {
  let seed = 12345;
  const random = (): number => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0;
    return seed;
  };
  for (let i = 0; i < 3000; i++) {
    const sample = {
      sequence: random() >>> 16,
      timeMicros: random(),
      cells: [random() >> 8, random() >> 8, random() >> 8] as [number, number, number],
      accelerometer: [random() >> 16, random() >> 16, random() >> 16] as [number, number, number],
      flags: random() >>> 24,
    };
    const bytes = sleeveAnswers.sample(sample);
    const { samples } = scanAll(bytes);
    expect(samples[0]).toEqual(decodeMessage(MESSAGES.SAMPLE, bytes));
    expect(samples[0]).toEqual(sample);
  }
});
