/** Properties of the scanner under any bytes, any split, junk in between and broken messages. Seeded. */
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { sleeveAnswers } from '../../firmware-bridge/wire/index.ts';
import { anyMotion, anySample, unsigned } from '../support/any-messages.ts';
import { joined, sampleOf, scanAll, toHex } from '../support/wire.ts';

const settings = (seed: number, numRuns = 300): fc.Parameters<unknown> => ({ seed, numRuns });

/** Bytes in which starts and ends are as frequent as everything else together. */
const nastyBytes = fc
  .array(fc.oneof(fc.constantFrom(0xf0, 0x01, 0x02, 0x06, 0xf7), unsigned(8)), { maxLength: 200 })
  .map((bytes) => Uint8Array.from(bytes));

const firmataMessage = fc.oneof(
  fc.tuple(unsigned(4), unsigned(8)).map(([port, mask]) => sleeveAnswers.digitalPort(port, mask)),
  fc.string({ maxLength: 20 }).map(sleeveAnswers.text),
  fc.constant(sleeveAnswers.protocolVersion(2, 5)),
  fc.constant(sleeveAnswers.firmware('ebbline-sleeve', 0, 1)),
  fc.array(unsigned(7), { maxLength: 60 }).map((inside) => Uint8Array.from([0xf0, 0x0b, ...inside, 0xf7])),
);

/** Junk that holds no F0, so that it cannot take a message's start into itself. */
const junk = fc.uint8Array({ maxLength: 40 }).map((bytes) => bytes.filter((byte) => byte !== 0xf0));

function cutAt(bytes: Uint8Array, cuts: readonly number[]): Uint8Array[] {
  const places = [0, ...cuts.map((cut) => cut % (bytes.length + 1)).sort((x, y) => x - y), bytes.length];
  return places.slice(1).map((place, n) => bytes.subarray(places[n]!, place));
}

it('never throws, and every sample it gives stands in the bytes it got', () => {
  fc.assert(
    fc.property(fc.array(nastyBytes, { maxLength: 8 }), (chunks) => {
      const { samples, scanner } = scanAll(...chunks);
      const hex = toHex(joined(chunks));
      for (const sample of samples) expect(hex).toContain(toHex(sleeveAnswers.sample(sample)).slice(0, -4));
      // Each F0 01 is either a sample or a rejection.
      const starts = hex.match(/../g)?.filter((byte, at, all) => byte === 'f0' && all[at + 1] === '01') ?? [];
      expect(scanner.counts.samples + scanner.counts.rejected).toBe(starts.length);
      const turns = hex.match(/../g)?.filter((byte, at, all) => byte === 'f0' && all[at + 1] === '06') ?? [];
      expect(scanner.counts.motions + scanner.counts.rejectedMotions).toBe(turns.length);
    }),
    settings(11, 500),
  );
});

it('gives exactly the samples that were sent, in order, however the bytes are split', () => {
  fc.assert(
    fc.property(
      fc.array(anySample, { maxLength: 20 }),
      fc.array(fc.nat(), { maxLength: 30 }),
      (sent, cuts) => {
        const bytes = joined(sent.map(sleeveAnswers.sample));
        const { samples, scanner } = scanAll(...cutAt(bytes, cuts));
        expect(samples).toEqual(sent);
        expect(scanner.counts.rejected).toBe(0);
      },
    ),
    settings(12),
  );
});

it('gives exactly those with junk and Firmata messages in between', () => {
  const part = fc.oneof(
    anySample.map((sample) => ({ sample, bytes: sleeveAnswers.sample(sample) })),
    fc.oneof(firmataMessage, junk, anyMotion).map((bytes) => ({ sample: null, bytes })),
  );
  fc.assert(
    fc.property(fc.array(part, { maxLength: 40 }), fc.array(fc.nat(), { maxLength: 30 }), (parts, cuts) => {
      const sent = parts.flatMap(({ sample }) => (sample ? [sample] : []));
      const { samples, scanner } = scanAll(...cutAt(joined(parts.map(({ bytes }) => bytes)), cuts));
      expect(samples).toEqual(sent);
      expect(scanner.counts.rejected).toBe(0);
    }),
    settings(13),
  );
});

it('finds what comes after any bytes at all', () => {
  fc.assert(
    fc.property(nastyBytes, (noise) => {
      // The noise may end in an unfinished start, but the good message's F0 ends it.
      const { samples } = scanAll(joined([noise, sleeveAnswers.sample(sampleOf(5))]));
      expect(samples.at(-1)).toEqual(sampleOf(5));
    }),
    settings(14),
  );
});

it('gives no sample that was not sent when bytes are changed, lost or put in, and goes on after', () => {
  const mutation = fc.record({
    kind: fc.constantFrom('flip' as const, 'lose' as const, 'insert' as const),
    at: fc.nat(),
    byte: unsigned(8),
    bit: unsigned(3),
  });
  fc.assert(
    fc.property(
      fc.array(anySample, { minLength: 3, maxLength: 12 }),
      fc.array(mutation, { minLength: 1, maxLength: 4 }),
      (sent, mutations) => {
        const bytes = [...joined(sent.map(sleeveAnswers.sample))];
        for (const { kind, at, byte, bit } of mutations) {
          const place = at % bytes.length;
          if (kind === 'flip') bytes[place]! ^= 1 << bit;
          else bytes.splice(place, kind === 'lose' ? 1 : 0, ...(kind === 'insert' ? [byte] : []));
        }
        const last = sampleOf(77);
        const { samples } = scanAll(joined([bytes, sleeveAnswers.sample(last)]));
        expect(samples.pop()).toEqual(last);
        for (const sample of samples) expect(sent).toContainEqual(sample);
        expect(samples.length).toBeGreaterThanOrEqual(sent.length - 2 * mutations.length);
      },
    ),
    settings(15, 500),
  );
});
