import fc from 'fast-check';
import { expect, it } from 'vitest';
import { ByteCursor, FIELD_TYPES, type FieldType } from '../../firmware-bridge/wire/cursor.ts';

it('reads and writes little-endian', () => {
  const cursor = new ByteCursor(new Uint8Array(12));
  cursor.write('u16', 0x1234);
  cursor.write('u32', 0xdeadbeef);
  cursor.write('i24', -2);
  cursor.write('i16', -32_768);
  cursor.write('u8', 255);
  expect([...cursor.bytes]).toEqual([0x34, 0x12, 0xef, 0xbe, 0xad, 0xde, 0xfe, 0xff, 0xff, 0x00, 0x80, 0xff]);
});

it('gives back any number in its range, in agreement with DataView where that has the type', () => {
  const types = Object.keys(FIELD_TYPES) as FieldType[];
  for (const type of types) {
    const { min, max } = FIELD_TYPES[type];
    fc.assert(
      fc.property(fc.integer({ min, max }), (number) => {
        const bytes = new Uint8Array(4);
        new ByteCursor(bytes).write(type, number);
        expect(new ByteCursor(bytes).read(type)).toBe(number);
        const view = new DataView(bytes.buffer);
        if (type === 'u32') expect(view.getUint32(0, true)).toBe(number);
        if (type === 'i16') expect(view.getInt16(0, true)).toBe(number);
      }),
      { seed: 3 },
    );
  }
});

it('refuses a number out of range, a fraction, and the end of the bytes', () => {
  const cursor = new ByteCursor(new Uint8Array(4));
  expect(() => cursor.write('i24', 0x800000)).toThrow(RangeError);
  expect(() => cursor.write('u8', -1)).toThrow(RangeError);
  expect(() => cursor.write('u8', 1.5)).toThrow(RangeError);
  expect(() => cursor.write('u8', Number.NaN)).toThrow(RangeError);
  cursor.write('u16', 1);
  expect(() => cursor.read('u32')).toThrow(/expected 4 bytes at offset 2, found 2/);
});
