/** The check finds what is wrong and changes nothing; a rebuild makes feeds from captures alone. */
import * as fs from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, onTestFinished, test } from 'vitest';
import { checkStore, rebuildStore } from '../../src/app/kept/check-store.ts';
import type { KeptFeed } from '../../src/feed/record/feed.ts';
import { openStore } from '../../src/store/open-store.ts';
import { readFixture } from '../support/captures.ts';
import { fullFolder, NOW_MS } from '../support/full-store.ts';
import { letGo } from '../support/let-go.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { codeOf } from '../support/refusals.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const kindsIn = (folder: string): string[] => checkStore(folder, true).findings.map(({ kind }) => kind);

/** Without SQLite’s own files, which stay beside a database while this process may still hold it. */
const namesIn = (folder: string): string[] =>
  fs
    .readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => !/-(wal|shm)$/.test(name))
    .sort();

/** A folder with one recorded feed; made once and then copied. */
const once = fs.mkdtempSync(join(tmpdir(), 'ebbline-test-'));
let feed: KeptFeed;
beforeAll(async () => {
  const { bytes, calibration } = readFixture('poured');
  const store = openStore(once, { recording: true, softwareVersion: '0.1.0' });
  recordFeed(store, { id: 'poured', bytes, calibration, startMs: NOW_MS });
  feed = store.get('poured')!;
  store.close();
  await letGo();
  for (const name of ['feeds.sqlite-wal', 'feeds.sqlite-shm']) fs.rmSync(join(once, name), { force: true });
});
afterAll(() => fs.rmSync(once, { recursive: true }));

function recorded(): string {
  const folder = join(temporaryFolder(), 'data');
  fs.cpSync(once, folder, { recursive: true });
  return folder;
}

const seen = (folder: string, id: string) => {
  const store = openStore(folder);
  onTestFinished(() => store.close());
  return store.get(id);
};

describe('looking', () => {
  test('finds nothing in a folder that is as it should be', () => {
    expect(checkStore(fullFolder(temporaryFolder()), true)).toEqual({ feeds: 4, captures: 4, findings: [] });
    expect(codeOf(() => checkStore(temporaryFolder(), true))).toBe('check-nothing');
  });

  test.each<[string, string, (folder: string) => void]>([
    [
      'a capture of nobody',
      'capture-without-feed',
      (f) => fs.copyFileSync(join(f, 'captures', 'a.cap.cols'), join(f, 'captures', 'z.cap.cols')),
    ],
    [
      'a feed whose capture is gone',
      'feed-without-capture',
      (f) => fs.rmSync(join(f, 'captures', 'b.cap.cols')),
    ],
    [
      'a capture cut short',
      'capture-damaged',
      (f) => fs.truncateSync(join(f, 'captures', 'a.cap.cols'), 200),
    ],
    ['a file open to others', 'open-to-others', (f) => fs.chmodSync(join(f, 'captures', 'a.json'), 0o644)],
  ])('finds %s (%s), and changes nothing', (_what, kind, spoil) => {
    const folder = fullFolder(temporaryFolder());
    spoil(folder);
    const before = namesIn(folder);
    expect(kindsIn(folder)).toEqual([kind]);
    expect(kindsIn(folder)).toEqual([kind]);
    expect(namesIn(folder)).toEqual(before);
  });
});

describe('making anew', () => {
  test.each<[string, (folder: string) => void]>([
    ['is gone', (f) => fs.rmSync(join(f, 'feeds.sqlite'))],
    ['is empty', (f) => fs.truncateSync(join(f, 'feeds.sqlite'), 0)],
    ['is garbage', (f) => fs.writeFileSync(join(f, 'feeds.sqlite'), 'x'.repeat(5000))],
    [
      'is overwritten in the middle',
      (f) => {
        const fd = fs.openSync(join(f, 'feeds.sqlite'), 'r+');
        fs.writeSync(fd, Buffer.alloc(20_000, 0xaa), 0, 20_000, 5000);
        fs.closeSync(fd);
      },
    ],
  ])('where the database %s gives the feed as it was measured', (_how, spoil) => {
    const folder = recorded();
    spoil(folder);
    const { feeds, not, putAside } = rebuildStore(folder, NOW_MS);
    expect({ feeds, not }).toEqual({ feeds: ['poured'], not: [] });
    expect(putAside !== null).toBe(!/gone/.test(_how));
    const again = seen(folder, 'poured')!;
    expect(again.rows).toEqual(feed.rows);
    expect(again.cues).toEqual(feed.cues);
    expect(again.refined).toEqual(feed.refined);
    expect(again).toMatchObject({
      startedAtMs: feed.startedAtMs,
      sampleZeroAtMs: Math.floor(feed.sampleZeroAtMs),
      intakeMl: feed.intakeMl,
      durationSec: feed.durationSec,
      captureFile: feed.captureFile,
      setup: { babyName: null },
    });
    expect(kindsIn(folder)).toEqual([]);
  });

  test('leaves feeds that are kept as they are, and says what nothing can be made of', () => {
    const folder = fullFolder(temporaryFolder());
    const captures = join(folder, 'captures');
    fs.copyFileSync(join(captures, 'a.cap.cols'), join(captures, 'noteless.cap.cols'));
    fs.writeFileSync(join(captures, 'noise.cap'), 'no samples');
    const before = seen(folder, 'a');
    const { feeds, not } = rebuildStore(folder, NOW_MS);
    expect(feeds).toEqual([]);
    expect(not.map(({ capture }) => capture).sort()).toEqual(['noise.cap', 'noteless.cap.cols']);
    expect(seen(folder, 'a')).toEqual(before);
  });
});

test('an empty database beside captures is not "no feeds": it is said, and nothing is written over it', () => {
  const folder = recorded();
  fs.truncateSync(join(folder, 'feeds.sqlite'), 0);
  for (const open of [() => openStore(folder), () => openStore(folder, { recording: true })]) {
    expect(codeOf(open)).toBe('store-damaged');
  }
  expect(fs.statSync(join(folder, 'feeds.sqlite')).size).toBe(0);
});
