/** A backup has every byte of the store; a restore that is cut changes everything or nothing. */
import { execFileSync } from 'node:child_process';
import * as fs from 'node:fs';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import Libsql from 'libsql';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { openStore } from '../../../src/store/open-store.ts';
import { backUp } from '../../../src/store/portable/backup.ts';
import { restoreInto } from '../../../src/store/portable/restore.ts';
import { TarWriter } from '../../../src/store/portable/tar.ts';
import { fullFolder, NOW_MS } from '../../support/full-store.ts';
import { letGo } from '../../support/let-go.ts';
import { codeOf } from '../../support/refusals.ts';
import { seenIn } from '../../support/seen-store.ts';
import { begunFeed, bytesOfSecond, partOfSecond } from '../../support/store-samples.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

const ABOUT = { nowMs: NOW_MS, softwareVersion: '0.1.0' };
const KEEP = { replace: false, nowMs: NOW_MS };
const REPLACE = { replace: true, nowMs: NOW_MS };

let source: string;
/** A backup of `source`; not to be changed. */
let whole: string;
/** A folder with other feeds than those. */
let other: string;

beforeAll(() => {
  source = fullFolder(mkdtempSync(join(tmpdir(), 'ebbline-source-')));
  whole = backup(source);
  other = mkdtempSync(join(tmpdir(), 'ebbline-other-'));
  const store = openStore(other, { recording: true });
  store.begin(begunFeed('other'), null);
  store.append('other', partOfSecond(0));
  store.finish('other', { endReason: 'button', endedAtMs: NOW_MS, refined: null });
  store.close();
});
afterAll(() => {
  for (const folder of [source, other, join(whole, '..')]) fs.rmSync(folder, { recursive: true });
});

function copyOf(folder: string): string {
  const copy = temporaryFolder();
  fs.cpSync(folder, copy, { recursive: true });
  return copy;
}

function backup(
  folder: string,
  out = join(mkdtempSync(join(tmpdir(), 'ebbline-backup-')), 'all.tar'),
): string {
  backUp(folder, out, ABOUT);
  return out;
}

/** Without SQLite's own files: connections of this process may still hold them. */
const namesIn = (folder: string) =>
  fs
    .readdirSync(folder)
    .filter((name) => !/-(wal|shm)$/.test(name))
    .sort();

describe('a backup', () => {
  test('brought back elsewhere is the same store, captures too', () => {
    const target = join(temporaryFolder(), 'new');
    expect(restoreInto(target, whole, KEEP)).toEqual({ feeds: 4, before: null });
    expect(seenIn(target)).toEqual(seenIn(source));
    expect(fs.readFileSync(join(target, 'captures', 'a.json'))).toEqual(
      fs.readFileSync(join(source, 'captures', 'a.json')),
    );
    expect(namesIn(target)).toEqual(['captures', 'feeds.sqlite', 'recording.lock']);
  });

  test('brings back studies and passports of nipples, and puts aside those that were there', () => {
    const folder = temporaryFolder();
    openStore(folder, { recording: true }).close();
    const put = (data: string, name: string, text: string) => {
      fs.mkdirSync(dirname(join(data, name)), { recursive: true });
      fs.writeFileSync(join(data, name), text);
    };
    put(folder, 'studies/pace-1/protocol.json', '{}');
    put(folder, 'studies/pace-1/sessions.jsonl', 'one');
    put(folder, 'studies/pace-1/recomputed/run-1/rows.json', 'made anew');
    put(folder, 'nipples/0123456789abcdef.json', '[]');
    const out = backup(folder, join(temporaryFolder(), 'all.tar'));
    const target = temporaryFolder();
    put(target, 'studies/other/protocol.json', 'mine');
    expect(() => restoreInto(target, out, KEEP)).toThrow('Something is kept');
    const { before } = restoreInto(target, out, { ...KEEP, replace: true });
    const found = (data: string, of: string) => fs.readdirSync(join(data, of), { recursive: true }).sort();
    expect(found(target, 'studies')).toEqual([
      'pace-1',
      join('pace-1', 'protocol.json'),
      join('pace-1', 'sessions.jsonl'),
    ]);
    expect(found(target, 'nipples')).toEqual(['0123456789abcdef.json']);
    expect(fs.readFileSync(join(before!, 'studies/other/protocol.json'), 'utf8')).toBe('mine');
  });

  test('is a tar file with sums that other programs read: tar(1), sha256sum(1)', () => {
    const folder = temporaryFolder();
    // Where there is no tar, as on Windows, tar.test.ts checks the bytes.
    if (process.platform !== 'linux') return;
    execFileSync('tar', ['-xf', whole, '-C', folder]);
    const checked = execFileSync('sha256sum', ['-c', 'SHA256SUMS'], { cwd: folder, encoding: 'utf8' });
    expect(checked.match(/: OK$/gm)).toHaveLength(2 + 8);
    expect(JSON.parse(fs.readFileSync(join(folder, 'ebbline-backup.json'), 'utf8'))).toMatchObject({
      format: 'ebbline-backup',
      version: 2,
      feeds: 4,
      madeAt: new Date(NOW_MS).toISOString(),
    });
  });

  test('made while a feed is recorded holds it as far as it has come', () => {
    const folder = temporaryFolder();
    const store = openStore(folder, { recording: true });
    onTestFinished(() => store.close());
    store.begin(begunFeed('runs'), null);
    for (let second = 0; second < 3; second++) store.append('runs', partOfSecond(second, 2500));
    const out = backup(folder, join(temporaryFolder(), 'all.tar'));
    store.append('runs', partOfSecond(3, 2500));
    const target = join(temporaryFolder(), 'new');
    restoreInto(target, out, KEEP);
    const restored = openStore(target, { recording: true });
    onTestFinished(() => restored.close());
    expect(restored.unfinished().map(({ id }) => id)).toEqual(['runs']);
    expect(restored.get('runs')!.rows).toHaveLength(6);
    const sent = Buffer.concat([0, 1, 2].map((second) => bytesOfSecond(second, 2500)));
    expect(fs.readFileSync(restored.capturePath('runs')!)).toEqual(sent);
  });

  test('made while the feed ended still finds its capture', () => {
    const folder = copyOf(source);
    const store = openStore(folder, { recording: true });
    store.begin(begunFeed('runs'), null);
    store.append('runs', partOfSecond(0, 2500));
    store.close();
    // The database was copied before the capture was packed.
    fs.copyFileSync(join(folder, 'captures', 'a.cap.cols'), join(folder, 'captures', 'runs.cap.cols'));
    fs.rmSync(join(folder, 'captures', 'runs.cap'));
    const target = join(temporaryFolder(), 'new');
    restoreInto(target, backup(folder, join(temporaryFolder(), 'all.tar')), KEEP);
    const restored = openStore(target);
    onTestFinished(() => restored.close());
    expect(restored.capturePath('runs')).toBe(join(target, 'captures', 'runs.cap.cols'));
  });

  test('is never made over a file, out of nothing, or half', () => {
    const folder = copyOf(source);
    const before = fs.readFileSync(whole);
    expect(codeOf(() => backUp(folder, whole, ABOUT))).toBe('backup-exists');
    expect(fs.readFileSync(whole).equals(before)).toBe(true);
    expect(codeOf(() => backUp(temporaryFolder(), `${whole}.2`, ABOUT))).toBe('backup-nothing');
    expect(codeOf(() => backUp(folder, join(whole, 'inside-a-file.tar'), ABOUT))).toBe('store-folder');
    fs.rmSync(join(folder, 'captures', 'b.cap.cols'));
    fs.mkdirSync(join(folder, 'captures', 'b.cap.cols'));
    const elsewhere = join(temporaryFolder(), 'all.tar');
    expect(codeOf(() => backUp(folder, elsewhere, ABOUT))).toBe('store-folder');
    expect(fs.existsSync(elsewhere)).toBe(false);
    expect(namesIn(join(elsewhere, '..'))).toEqual([]);
  });
});

describe('a restore', () => {
  test('refuses to put anything aside unless told; then what was there stays beside it, whole', async () => {
    const folder = copyOf(other);
    fs.mkdirSync(join(folder, 'simulated'));
    const before = seenIn(folder);
    await letGo();
    expect(codeOf(() => restoreInto(folder, whole, KEEP))).toBe('restore-occupied');
    expect(seenIn(folder)).toEqual(before);
    await letGo();
    const aside = join(folder, 'before-restore-20260109-120000');
    expect(restoreInto(folder, whole, REPLACE)).toEqual({ feeds: 4, before: aside });
    expect(seenIn(folder)).toEqual(seenIn(source));
    expect(seenIn(aside)).toEqual(before);
    // The simulated feeds in the folder belong to another store and stay.
    expect(fs.existsSync(join(folder, 'simulated'))).toBe(true);
  });

  test('twice within a second puts two things aside, and writes neither over', async () => {
    const folder = copyOf(other);
    const before = seenIn(folder);
    await letGo();
    const first = restoreInto(folder, whole, REPLACE).before!;
    await letGo();
    const second = restoreInto(folder, whole, REPLACE).before!;
    expect(second).not.toBe(first);
    expect(seenIn(first)).toEqual(before);
    expect(seenIn(second)).toEqual(seenIn(source));
  });

  test.each<[string, string, (tar: Buffer) => Buffer | string]>([
    ['another file', 'restore-foreign', () => 'no tar'],
    ['an empty file', 'restore-foreign', () => ''],
    ['another tar file', 'restore-foreign', () => tarOf({ 'notes.txt': 'x' })],
    ['a tar file that reaches out of its folder', 'restore-foreign', () => tarOf({ '../../x': 'x' })],
    [
      'one that does so later',
      'restore-damaged',
      () => tarOf({ 'ebbline-backup.json': about(1), '../../x': 'x' }),
    ],
    ['a newer one', 'restore-newer', () => tarOf({ 'ebbline-backup.json': about(3) })],
    ['one of another kind', 'restore-foreign', () => tarOf({ 'ebbline-backup.json': '{"format":"other"}' })],
    [
      'one without a database',
      'restore-damaged',
      () => tarOf({ 'ebbline-backup.json': about(1), SHA256SUMS: '' }),
    ],
    ['one cut in half', 'restore-damaged', (tar) => tar.subarray(0, tar.length >> 1)],
    ['one cut at its last file', 'restore-damaged', (tar) => tar.subarray(0, tar.length - 2048)],
    ['one with a byte changed in the database', 'restore-damaged', (tar) => flipped(tar, 40_000)],
    [
      'one with a byte changed in a capture',
      'restore-damaged',
      (tar) => flipped(tar, tar.indexOf('EBCC') + 30),
    ],
    ['one with a byte changed in a header', 'restore-damaged', (tar) => flipped(tar, 1024 + 3)],
  ])('of %s is refused, and nothing is changed', async (_what, code, spoil) => {
    const out = join(temporaryFolder(), 'spoilt.tar');
    fs.writeFileSync(out, spoil(fs.readFileSync(whole)));
    const folder = copyOf(other);
    const before = seenIn(folder);
    await letGo();
    expect(codeOf(() => restoreInto(folder, out, REPLACE))).toBe(code);
    expect(namesIn(folder)).toEqual(['captures', 'feeds.sqlite', 'recording.lock']);
    expect(seenIn(folder)).toEqual(before);
  });

  test('waits until nobody reads what it would put aside', async () => {
    const folder = copyOf(other);
    const reader = openStore(folder);
    expect(reader.list()).toHaveLength(1);
    expect(codeOf(() => restoreInto(folder, whole, REPLACE))).toBe('store-busy');
    reader.close();
    expect(seenIn(folder).feeds).toHaveLength(1);
  });

  test('refuses at once while a recorder runs, and where there is no file', () => {
    const folder = temporaryFolder();
    const recorder = openStore(folder, { recording: true });
    onTestFinished(() => recorder.close());
    expect(codeOf(() => restoreInto(folder, whole, REPLACE))).toBe('store-recording');
    expect(codeOf(() => restoreInto(temporaryFolder(), `${whole}.none`, KEEP))).toBe('restore-missing');
  });

  /** The state after some of the renames that put a backup in place. */
  test.each([0, 1, 2, 3, 4])(
    'cut after %i steps is made good when the folder is opened next',
    async (steps) => {
      const source = fullFolder(temporaryFolder());
      const folder = copyOf(other);
      const before = seenIn(folder);
      const stage = join(folder, 'restoring');
      fs.cpSync(source, stage, { recursive: true });
      for (const name of ['recording.lock', 'feeds.sqlite-wal', 'feeds.sqlite-shm']) {
        fs.rmSync(join(stage, name), { force: true });
      }
      const aside = join(folder, 'before-restore-20260109-120000');
      fs.writeFileSync(join(stage, 'ready'), 'before-restore-20260109-120000');
      const moves = [
        () => {
          fs.mkdirSync(aside);
          fs.renameSync(join(folder, 'feeds.sqlite'), join(aside, 'feeds.sqlite'));
        },
        () => fs.renameSync(join(stage, 'feeds.sqlite'), join(folder, 'feeds.sqlite')),
        () => fs.renameSync(join(folder, 'captures'), join(aside, 'captures')),
        () => fs.renameSync(join(stage, 'captures'), join(folder, 'captures')),
      ];
      await letGo();
      for (const move of moves.slice(0, steps)) move();
      expect(seenIn(folder)).toEqual(seenIn(source));
      expect(seenIn(aside)).toEqual(before);
      expect(fs.existsSync(stage)).toBe(false);
    },
  );

  test.each(['before-restore-2026', 'half'])(
    'with a mark that is cut short (%s) has changed nothing yet',
    async (mark) => {
      const folder = copyOf(other);
      const before = seenIn(folder);
      fs.cpSync(source, join(folder, 'restoring'), { recursive: true });
      fs.writeFileSync(join(folder, 'restoring', 'ready'), mark);
      await letGo();
      expect(seenIn(folder)).toEqual(before);
    },
  );

  test('with an empty mark deletes nothing: what is there is put aside', async () => {
    const folder = copyOf(other);
    const before = seenIn(folder);
    const stage = join(folder, 'restoring');
    fs.cpSync(source, stage, { recursive: true });
    fs.writeFileSync(join(stage, 'ready'), '');
    await letGo();
    expect(seenIn(folder)).toEqual(seenIn(source));
    expect(seenIn(join(folder, 'before-restore-unmarked'))).toEqual(before);
  });

  test('cut before it was checked is cleared away', () => {
    const folder = copyOf(other);
    const before = seenIn(folder);
    fs.mkdirSync(join(folder, 'restoring', 'captures'), { recursive: true });
    fs.writeFileSync(join(folder, 'restoring', 'feeds.sqlite'), 'half');
    openStore(folder, { recording: true }).close();
    expect(namesIn(folder)).toEqual(['captures', 'feeds.sqlite', 'recording.lock']);
    expect(seenIn(folder)).toEqual(before);
  });
});

describe('a crafted backup', () => {
  /** A backup of `source` whose database was changed by hand; its sums are right. */
  function crafted(sql: string): string {
    const folder = copyOf(source);
    const database = new Libsql(join(folder, 'feeds.sqlite'));
    database.exec(sql);
    database.exec('PRAGMA wal_checkpoint(TRUNCATE)');
    database.close();
    const out = join(temporaryFolder(), 'crafted.tar');
    const tar = new TarWriter(out);
    tar.addBytes('ebbline-backup.json', Buffer.from(about(1)), NOW_MS);
    tar.addFile('feeds.sqlite', join(folder, 'feeds.sqlite'));
    const sums = [...tar.sums].map(([name, sum]) => `${sum}  ${name}\n`).join('');
    tar.addBytes('SHA256SUMS', Buffer.from(sums), NOW_MS);
    tar.finish();
    tar.close();
    return out;
  }

  test.each<[string, string, RegExp]>([
    ['a trigger', 'CREATE TRIGGER t AFTER DELETE ON feed BEGIN DELETE FROM baby; END', /trigger t/],
    [
      'a view in place of a table',
      'DROP TABLE setting; CREATE VIEW setting AS SELECT 1 AS name, 2 AS setting_json',
      /setting/,
    ],
    ['a table too many', 'CREATE TABLE extra (x)', /table extra/],
    ['a column too many', 'ALTER TABLE feed ADD COLUMN extra', /table feed/],
    ['a table too few', 'DROP TABLE leaving', /table leaving/],
    ['an id that is a path', "UPDATE feed SET id = '../../../x' WHERE id = 'a'", /names a feed or a capture/],
    [
      'a capture that is a path',
      "UPDATE feed SET capture_file = '../../x.cap' WHERE id = 'a'",
      /names a feed or a capture/,
    ],
    [
      'a capture of somebody else',
      "UPDATE feed SET capture_file = '/etc/passwd' WHERE id = 'a'",
      /names a feed or a capture/,
    ],
    [
      'a capture to be deleted elsewhere',
      "INSERT INTO leaving VALUES ('../x', '', 0)",
      /names a feed or a capture/,
    ],
  ])('with %s is refused, and nothing is changed', async (_what, sql, says) => {
    const folder = copyOf(other);
    const before = seenIn(folder);
    await letGo();
    const out = crafted(sql);
    expect(() => restoreInto(folder, out, REPLACE)).toThrow(says);
    expect(codeOf(() => restoreInto(folder, out, REPLACE))).toBe('restore-damaged');
    expect(seenIn(folder)).toEqual(before);
  });

  test('without anything foreign comes in as ever', () => {
    const target = join(temporaryFolder(), 'new');
    expect(restoreInto(target, crafted('SELECT 1'), KEEP)).toMatchObject({ feeds: 4 });
  });
});

const about = (version: number): string => JSON.stringify({ format: 'ebbline-backup', version });

function tarOf(files: Record<string, string>): Buffer {
  const path = join(temporaryFolder(), 'made.tar');
  const tar = new TarWriter(path);
  for (const [name, text] of Object.entries(files)) tar.addBytes(name, Buffer.from(text), NOW_MS);
  tar.finish();
  tar.close();
  return fs.readFileSync(path);
}

function flipped(bytes: Buffer, at: number): Buffer {
  const copy = Buffer.from(bytes);
  copy[at]! ^= 0x10;
  return copy;
}
