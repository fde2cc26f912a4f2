/**
 * No room for what is to be written: a shell's limit on the size of a file (POSIX, `ulimit -f`) stands for the full disk. Nothing half-written
 * is left, and what was there stays. Left out where there is no such shell.
 */
import { spawnSync } from 'node:child_process';
import * as fs from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, expect, it } from 'vitest';
import { openStore } from '../../src/store/open-store.ts';
import { backUp } from '../../src/store/portable/backup.ts';
import { readFixture } from '../support/captures.ts';
import { requireBuild } from '../support/command.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const COMMAND = fileURLToPath(new URL('../../dist/ebbline.js', import.meta.url));

beforeAll(requireBuild);

const NOW_MS = Date.UTC(2026, 0, 5, 9, 0, 3);

/** Runs the command where no file may grow beyond `kilobytes`. */
function runWithin(kilobytes: number, args: readonly string[], data: string) {
  const { status, stdout, stderr } = spawnSync(
    'bash',
    ['-c', `ulimit -f ${kilobytes}; exec "$0" "$@"`, process.execPath, COMMAND, ...args],
    { env: { PATH: process.env.PATH, HOME: data, EBBLINE_DATA: data, TZ: 'UTC' }, encoding: 'utf8' },
  );
  return { code: status, stdout, stderr };
}

/** A database with its log takes 32 kB as soon as it is opened; a capture of 90 s has 172 kB as gzip, the database 130 kB. */
const KILOBYTES = 48;

it.skipIf(process.platform === 'win32')('export, backup and restore: whole or not at all', () => {
  const { bytes, calibration } = readFixture('poured');
  const data = temporaryFolder();
  const recorder = openStore(data, { recording: true });
  recordFeed(recorder, { id: 'poured', bytes, calibration, startMs: NOW_MS });
  recorder.close();
  const out = temporaryFolder();
  const exported = runWithin(
    KILOBYTES,
    ['feeds', 'export', '--out', join(out, 'export'), '--captures'],
    data,
  );
  expect(exported).toMatchObject({ code: 2, stdout: '' });
  expect(exported.stderr).toMatch(/^ebbline: The disk that holds .* is full\./);
  expect(runWithin(KILOBYTES, ['data', 'backup', '--out', join(out, 'all.tar')], data)).toMatchObject({
    code: 2,
    stdout: '',
  });
  expect(fs.readdirSync(out)).toEqual([]);

  backUp(data, join(out, 'all.tar'), { nowMs: NOW_MS, softwareVersion: '0.1.0' });
  const target = temporaryFolder();
  const store = openStore(target, { recording: true });
  store.begin(begunFeed('other'), null);
  store.append('other', partOfSecond(0));
  store.finish('other', { endReason: 'button', endedAtMs: NOW_MS, refined: null });
  const before = store.get('other');
  store.close();
  // Copied, so that this process has nothing open in the folder.
  const copy = temporaryFolder();
  fs.cpSync(target, copy, { recursive: true });
  const restored = runWithin(KILOBYTES, ['data', 'restore', join(out, 'all.tar'), '--replace'], copy);
  expect(restored).toMatchObject({ code: 2, stdout: '' });
  expect(restored.stderr).toMatch(/^ebbline: The disk that holds .* is full\./);
  expect(fs.readdirSync(copy).filter((name) => /restor/.test(name))).toEqual([]);
  const after = openStore(copy);
  expect(after.get('other')).toEqual(before);
  after.close();
});
