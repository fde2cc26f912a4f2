/** Sources: IEEE Std 1003.1-2017, pax, "ustar Interchange Format"; GNU tar manual, "Basic Tar Format", for sizes in base 256. From memory. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { headerOf, sizeIn, TarWriter, unpackTar } from '../../../src/store/portable/tar.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

test('a header has each field at its place', () => {
  const header = headerOf('captures/a.json', 1234, 1_000_000_000_000);
  expect(header).toHaveLength(512);
  const text = (at: number, length: number) => header.toString('latin1', at, at + length);
  expect(text(0, 16)).toBe('captures/a.json\0');
  expect(text(100, 8)).toBe('0000600\0');
  expect(text(124, 12)).toBe('00000002322\0');
  expect(text(136, 12)).toBe('07346545000\0');
  expect(text(156, 1)).toBe('0');
  expect(text(257, 8)).toBe('ustar\x0000');
  // The sum of all bytes, its own eight taken as spaces.
  const sum = header.reduce((total, byte, i) => total + (i >= 148 && i < 156 ? 32 : byte), 0);
  expect(text(148, 8)).toBe(`${sum.toString(8).padStart(6, '0')}\0 `);
});

test.each([0, 1, 8 ** 11 - 1, 8 ** 11, 20 * 2 ** 30])('a size of %d bytes comes back', (size) => {
  const header = headerOf('feeds.sqlite', size, 0);
  expect(sizeIn(header)).toBe(size);
  expect(header[124]! === 0x80).toBe(size >= 8 ** 11);
});

test('files of any length come out as they went in, with a whole number of blocks', () => {
  const folder = temporaryFolder();
  const path = join(folder, 'all.tar');
  const tar = new TarWriter(path);
  const lengths = [0, 1, 511, 512, 513, 3_000_000];
  for (const length of lengths) tar.addBytes(`f${length}`, Buffer.alloc(length, length), 0);
  tar.finish();
  tar.close();
  expect(fs.statSync(path).size % 512).toBe(0);
  const found = [...unpackTar(path, (name) => join(folder, name))];
  expect(found).toEqual([...tar.sums].map(([name, sha256]) => ({ name, sha256 })));
  for (const length of lengths)
    expect(fs.readFileSync(join(folder, `f${length}`)).equals(Buffer.alloc(length, length))).toBe(true);
});

test('a name that would be cut is refused', () => {
  expect(() => headerOf('x'.repeat(101), 0, 0)).toThrow('too long a name');
});
