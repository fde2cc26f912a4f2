/** Any messages of a sleeve, for properties (fast-check). */
import fc from 'fast-check';
import { type Sample, sleeveAnswers } from '../../firmware-bridge/wire/index.ts';

export const unsigned = (bits: number): fc.Arbitrary<number> => fc.integer({ min: 0, max: 2 ** bits - 1 });

const signed = (bits: number): fc.Arbitrary<number> =>
  fc.integer({ min: -(2 ** (bits - 1)), max: 2 ** (bits - 1) - 1 });
const threeSigned = (bits: number) => fc.tuple(signed(bits), signed(bits), signed(bits));

export const anySample: fc.Arbitrary<Sample> = fc.record({
  sequence: unsigned(16),
  timeMicros: unsigned(32),
  cells: threeSigned(24),
  accelerometer: threeSigned(16),
  flags: unsigned(8),
});

/** As bytes. */
export const anyMotion = fc
  .record({ sequence: unsigned(16), gyroscope: threeSigned(16) })
  .map((motion) => sleeveAnswers.motion(motion));
