import * as fs from 'node:fs';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import {
  CaptureWriter,
  isSameCapture,
  packAsGzip,
  packByColumn,
} from '../../src/store/captures/capture-writer.ts';
import { bytesOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

test.each([
  ['by column', packByColumn],
  ['as gzip', packAsGzip],
])('a capture larger than one block unpacks to the same bytes (%s)', (_way, pack) => {
  const folder = temporaryFolder();
  const raw = join(folder, 'long.cap');
  const packed = join(folder, 'long.cap.gz');
  const bytes = Buffer.concat(Array.from({ length: 10 }, (_, i) => bytesOfSecond(i, 900_001)));
  fs.writeFileSync(raw, bytes);
  pack(raw, packed);
  expect(bytes.equals(readCapture(packed).bytes)).toBe(true);
  expect(isSameCapture(raw, packed)).toBe(true);
  fs.writeFileSync(raw, bytes.subarray(1));
  expect(isSameCapture(raw, packed)).toBe(false);
});

test('an empty capture packs to a file that holds nothing', () => {
  const folder = temporaryFolder();
  const [raw, columns, gzip] = ['empty.cap', 'empty.cap.cols', 'empty.cap.gz'].map((name) =>
    join(folder, name),
  );
  fs.writeFileSync(raw!, '');
  packByColumn(raw!, columns!);
  packAsGzip(raw!, gzip!);
  expect([isSameCapture(raw!, columns!), isSameCapture(raw!, gzip!)]).toEqual([true, true]);
  expect(gunzipSync(fs.readFileSync(gzip!))).toHaveLength(0);
});

test.each([
  ['by column', packByColumn],
  ['as gzip', packAsGzip],
])('a packing that fails leaves neither a packed capture nor a temporary one (%s)', (_way, pack) => {
  const folder = temporaryFolder();
  fs.writeFileSync(join(folder, 'one.cap'), 'bytes');
  const disk = {
    ...fs,
    fsyncSync: () => {
      throw Object.assign(new Error('EIO'), { code: 'EIO' });
    },
  };
  expect(() => pack(join(folder, 'one.cap'), join(folder, 'one.cap.gz'), disk)).toThrow('EIO');
  expect(fs.readdirSync(folder)).toEqual(['one.cap']);
});

test('what is taken back leaves no hole', () => {
  const path = join(temporaryFolder(), 'one.cap');
  const writer = new CaptureWriter(path);
  writer.append([Buffer.from('first,')]);
  writer.truncate(writer.append([Buffer.from('taken '), Buffer.from('back,')]));
  expect(writer.append([Buffer.from('second')])).toBe(6);
  writer.close();
  expect(fs.readFileSync(path, 'utf8')).toBe('first,second');
});

test('a capture never overwrites another', () => {
  const path = join(temporaryFolder(), 'one.cap');
  fs.writeFileSync(path, 'here first');
  expect(() => new CaptureWriter(path)).toThrow('EEXIST');
  expect(fs.readFileSync(path, 'utf8')).toBe('here first');
});
