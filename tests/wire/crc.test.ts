import { expect, it } from 'vitest';
import { crc16 } from '../../firmware-bridge/wire/crc.ts';

const ascii = (text: string): Uint8Array => new TextEncoder().encode(text);

// Source: Catalogue of parametrised CRC algorithms (G. Cook), entry CRC-16/IBM-3740, alias CRC-16/CCITT-FALSE:
// width 16, poly 0x1021, init 0xffff, refin false, refout false, xorout 0x0000, check 0x29b1.
it('gives the check value of the published catalogue for "123456789"', () => {
  expect(crc16(ascii('123456789'))).toBe(0x29b1);
});

it('agrees with the definition, bit by bit', () => {
  const byDefinition = (bytes: Uint8Array): number => {
    let register = 0xffff;
    for (const byte of bytes) {
      for (let bit = 7; bit >= 0; bit--) {
        const out = (register >> 15) ^ ((byte >> bit) & 1);
        register = ((register << 1) & 0xffff) ^ (out ? 0x1021 : 0);
      }
    }
    return register;
  };
  for (let n = 0; n < 256; n++) {
    const bytes = Uint8Array.from({ length: n % 40 }, (_, i) => (n * 37 + i * i * 11) & 0xff);
    expect(crc16(bytes)).toBe(byDefinition(bytes));
  }
});

it('takes a part of the bytes, and has its initial value for none', () => {
  expect(crc16(ascii('xx123456789yy'), 2, 11)).toBe(0x29b1);
  expect(crc16(new Uint8Array(0))).toBe(0xffff);
});
