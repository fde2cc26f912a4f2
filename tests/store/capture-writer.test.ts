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

test('what is handed in again is not written twice, however it is cut', () => {
  const path = join(temporaryFolder(), 'one.cap');
  const writer = new CaptureWriter(path);
  writer.append([Buffer.from('first,')]);
  writer.settled();
  writer.append([Buffer.from('again '), Buffer.from('and')]);
  writer.append([Buffer.from('again and'), Buffer.from(' again,')]);
  writer.append([Buffer.from('again and again,')]);
  writer.settled();
  writer.append([Buffer.from('second')]);
  writer.close();
  expect(fs.readFileSync(path, 'utf8')).toBe('first,again and again,second');
});

test('what a failing disk took back is written when it is handed in again', () => {
  const path = join(temporaryFolder(), 'one.cap');
  let fails = false;
  const disk = {
    ...fs,
    fsyncSync: (fd: number) => {
      if (fails) throw Object.assign(new Error('EIO'), { code: 'EIO' });
      fs.fsyncSync(fd);
    },
  };
  const writer = new CaptureWriter(path, disk);
  writer.append([Buffer.from('one,')]);
  fails = true;
  expect(() => writer.append([Buffer.from('one,two,')])).toThrow('EIO');
  fails = false;
  writer.append([Buffer.from('one,two,three')]);
  writer.close();
  expect(fs.readFileSync(path, 'utf8')).toBe('one,two,three');
});

test('a capture never overwrites another', () => {
  const path = join(temporaryFolder(), 'one.cap');
  fs.writeFileSync(path, 'here first');
  expect(() => new CaptureWriter(path)).toThrow('EEXIST');
  expect(fs.readFileSync(path, 'utf8')).toBe('here first');
});
