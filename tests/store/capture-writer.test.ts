import * as fs from 'node:fs';
import { join } from 'node:path';
import { createGunzip, gunzipSync } from 'node:zlib';
import { expect, test } from 'vitest';
import { CaptureWriter, packCapture } from '../../src/store/capture-writer.ts';
import { bytesOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

test('a capture larger than one packing chunk unpacks to the same bytes, at once and as a stream', async () => {
  const folder = temporaryFolder();
  const raw = join(folder, 'long.cap');
  const packed = join(folder, 'long.cap.gz');
  const bytes = Buffer.concat(Array.from({ length: 10 }, (_, i) => bytesOfSecond(i, 900_001)));
  fs.writeFileSync(raw, bytes);
  packCapture(raw, packed);
  expect(gunzipSync(fs.readFileSync(packed)).equals(bytes)).toBe(true);
  const streamed: Buffer[] = [];
  for await (const chunk of fs.createReadStream(packed).pipe(createGunzip())) streamed.push(chunk as Buffer);
  expect(Buffer.concat(streamed).equals(bytes)).toBe(true);
  expect(fs.existsSync(raw)).toBe(true);
});

test('an empty capture is a gzip file that holds nothing', () => {
  const folder = temporaryFolder();
  fs.writeFileSync(join(folder, 'empty.cap'), '');
  packCapture(join(folder, 'empty.cap'), join(folder, 'empty.cap.gz'));
  expect(gunzipSync(fs.readFileSync(join(folder, 'empty.cap.gz')))).toHaveLength(0);
});

test('a packing that fails leaves neither a packed capture nor a temporary one', () => {
  const folder = temporaryFolder();
  fs.writeFileSync(join(folder, 'one.cap'), 'bytes');
  const disk = {
    ...fs,
    fsyncSync: () => {
      throw Object.assign(new Error('EIO'), { code: 'EIO' });
    },
  };
  expect(() => packCapture(join(folder, 'one.cap'), join(folder, 'one.cap.gz'), disk)).toThrow('EIO');
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
