import { encode } from 'uqr';
import { describe, expect, it } from 'vitest';
import { qrCode } from '../../src/cli/qr-code.ts';

/** The modules that a camera would see: dark where the color is black. */
function modulesOf(printed: string): boolean[][] {
  return printed.split('\n').flatMap((line) => {
    // biome-ignore lint/suspicious/noControlCharactersInRegex: escape sequences are what is read here.
    const cells = [...line.matchAll(/\u001b\[(\d+);(\d+)m▀/g)];
    return [cells.map(([, upper]) => upper === '30'), cells.map(([, , lower]) => lower === '40')];
  });
}

describe('a code in the terminal', () => {
  const text = 'http://192.168.1.7:4140/join#AbCdEfGhIjKlMnOpQrStUv';
  const modules = modulesOf(qrCode(text));
  const { data, size } = encode(text, { border: 0 });

  it('is the code itself with a light rim', () => {
    for (let y = 0; y < size; y++) expect(modules[y + 2]!.slice(2, size + 2)).toEqual(data[y]);
    for (const row of modules) expect(row.slice(0, 2)).toEqual([false, false]);
  });

  it('has its three finders where the standard puts them (ISO/IEC 18004: 7 × 7, ring of 5, core of 3; from memory)', () => {
    const finder = (x: number, y: number) => {
      const ring = Math.max(Math.abs(x - 3), Math.abs(y - 3));
      return ring !== 2;
    };
    for (const [left, top] of [
      [0, 0],
      [size - 7, 0],
      [0, size - 7],
    ] as const) {
      for (let y = 0; y < 7; y++) {
        for (let x = 0; x < 7; x++) expect(modules[top + y + 2]![left + x + 2]).toBe(finder(x, y));
      }
    }
  });

  it('fits a narrow terminal', () => expect(modules[0]!.length).toBeLessThanOrEqual(60));
});
