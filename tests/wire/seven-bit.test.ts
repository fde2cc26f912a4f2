import fc from 'fast-check';
import { expect, it } from 'vitest';
import { pack7, packedLength, unpack7Into } from '../../firmware-bridge/wire/seven-bit.ts';

it('packs least significant bit first and fills the last byte with zeros', () => {
  // By hand: 0xFF 0x01 = bits 1111 1111 1000 0000 from the lowest; in sevens 1111111 1100000 00.
  expect([...pack7(Uint8Array.of(0xff, 0x01))]).toEqual([0x7f, 0x03, 0x00]);
  expect([...pack7(Uint8Array.of(0x80))]).toEqual([0x00, 0x01]);
});

it('needs 28 bytes for the 24 of a sample, and 8 for 7', () => {
  expect(packedLength(24)).toBe(28);
  expect(packedLength(7)).toBe(8);
  expect(packedLength(0)).toBe(0);
});

it('unpacks what it packed, for any bytes', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 80 }), (bytes) => {
      const packed = pack7(bytes);
      expect(packed.length).toBe(packedLength(bytes.length));
      expect(packed.every((byte) => byte < 0x80)).toBe(true);
      const unpacked = new Uint8Array(bytes.length);
      unpack7Into(unpacked, packed);
      expect(unpacked).toEqual(bytes);
    }),
    { seed: 7 },
  );
});
