import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../src/base/errors.ts';
import { streamOf } from '../support/wire.ts';

const folder = mkdtempSync(join(tmpdir(), 'ebbline-capture-'));
afterAll(() => rmSync(folder, { recursive: true }));
function stored(name: string, bytes: Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, bytes);
  return path;
}
const bytes = streamOf(0, 2000);
const zipped = gzipSync(bytes);
/** True when `part` is how `bytes` begin. */
const isBeginning = (part: Uint8Array): boolean => Buffer.compare(part, bytes.subarray(0, part.length)) === 0;

describe('a whole capture', () => {
  it('is read as it is, plain or compressed', () => {
    for (const path of [stored('a.cap', bytes), stored('a.cap.gz', zipped)]) {
      const capture = readCapture(path);
      expect(Buffer.compare(capture.bytes, bytes)).toBe(0);
      expect(capture.warnings).toEqual([]);
    }
  });
});

describe('a compressed capture that ends early', () => {
  it('without its trailer gives everything, with a warning', () => {
    const capture = readCapture(stored('trailer.cap.gz', zipped.subarray(0, -8)));
    expect(Buffer.compare(capture.bytes, bytes)).toBe(0);
    expect(capture.warnings).toEqual([expect.stringMatching(/trailer\.cap\.gz is cut short/)]);
  });

  it('is used as far as it goes, wherever it is cut', () => {
    let longest = 0;
    for (const fraction of [0.3, 0.5, 0.8, 0.99]) {
      const path = stored('cut.cap.gz', zipped.subarray(0, Math.floor(zipped.length * fraction)));
      const capture = readCapture(path);
      expect(isBeginning(capture.bytes)).toBe(true);
      expect(capture.bytes.length).toBeGreaterThan(longest);
      expect(capture.warnings.length).toBe(1);
      longest = capture.bytes.length;
    }
  });

  it('with a wrong checksum in its trailer gives everything, with a warning', () => {
    const damaged = zipped.slice();
    damaged[damaged.length - 8]! ^= 0xff;
    const capture = readCapture(stored('sum.cap.gz', damaged));
    expect(Buffer.compare(capture.bytes, bytes)).toBe(0);
    expect(capture.warnings).toEqual([expect.stringMatching(/is damaged/)]);
  });

  it('damaged in the middle gives what comes before, with a warning', () => {
    const damaged = zipped.slice();
    damaged.fill(0xff, damaged.length >> 1, (damaged.length >> 1) + 64);
    const capture = readCapture(stored('middle.cap.gz', damaged));
    // Damage may be noticed a few bytes late; the bytes unpacked until then are checked only by the scanner.
    expect(capture.bytes.length).toBeGreaterThan(bytes.length / 4);
    expect(isBeginning(capture.bytes.subarray(0, bytes.length / 4))).toBe(true);
    expect(capture.warnings).toEqual([expect.stringMatching(/is damaged/)]);
  });
});

describe('what is no capture', () => {
  const errorOf = (path: string): PlainError => {
    try {
      readCapture(path);
    } catch (error) {
      expect(error).toBeInstanceOf(PlainError);
      return error as PlainError;
    }
    throw new Error('no error was thrown');
  };

  it.each([
    ['missing', () => join(folder, 'nowhere.cap'), 'capture-missing'],
    ['a folder', () => folder, 'capture-is-folder'],
    ['empty', () => stored('empty.cap', new Uint8Array(0)), 'capture-empty'],
    ['empty, compressed', () => stored('empty.cap.gz', gzipSync(new Uint8Array(0))), 'capture-empty'],
    ['cut before anything', () => stored('head.cap.gz', zipped.subarray(0, 12)), 'capture-empty'],
    ['plain bytes named .gz', () => stored('plain.cap.gz', bytes), 'capture-not-gzip'],
    ['compressed bytes not named .gz', () => stored('zipped.cap', zipped), 'capture-gzip-unnamed'],
  ])('%s: says what and where', (_, make, code) => {
    const path = make();
    const error = errorOf(path);
    expect(error.code).toBe(code);
    expect(error.message).toContain(path);
    expect(error.remedy).not.toBe('');
  });
});
