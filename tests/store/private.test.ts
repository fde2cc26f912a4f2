/** Only the owner may read what is kept, also in a folder that was open to all before. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { openStore } from '../../src/store/open-store.ts';
import { holdFolder } from '../../src/store/portable/held-folder.ts';
import { openToOthers } from '../../src/store/private.ts';
import { fullFolder, NOW_MS } from '../support/full-store.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const modeOf = (path: string): string => (fs.statSync(path).mode & 0o777).toString(8);

/** All that lies in `folder`, with its mode. */
const modesIn = (folder: string): Record<string, string> =>
  Object.fromEntries(
    fs
      .readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .map((name) => [name, modeOf(join(folder, name))]),
  );

function openToAll(folder: string): string {
  fs.chmodSync(folder, 0o755);
  for (const name of fs.readdirSync(folder, { recursive: true, encoding: 'utf8' })) {
    const path = join(folder, name);
    fs.chmodSync(path, fs.statSync(path).isDirectory() ? 0o755 : 0o644);
  }
  return folder;
}

describe.runIf(process.platform !== 'win32')('a data folder', () => {
  test.each([
    ['recorded into', (folder: string) => openStore(folder, { recording: true, nowMs: () => NOW_MS })],
    ['held by a command', (folder: string) => holdFolder(folder, () => NOW_MS)],
  ])('that was open to all is the owner’s alone once it is %s', (_how, open) => {
    const folder = openToAll(fullFolder(temporaryFolder()));
    expect(openToOthers(folder)).toContain('captures/a.json');
    const opened = open(folder);
    onTestFinished(() => opened.close());
    expect(modeOf(folder)).toBe('700');
    for (const [name, mode] of Object.entries(modesIn(folder))) {
      expect([name, mode]).toEqual([name, name === 'captures' ? '700' : '600']);
    }
  });

  test('into which a feed is recorded gets nothing that others may read', () => {
    const umask = process.umask(0);
    onTestFinished(() => void process.umask(umask));
    const folder = join(temporaryFolder(), 'new');
    const store = openStore(folder, { recording: true });
    onTestFinished(() => store.close());
    store.begin(begunFeed('one'), null);
    store.append('one', partOfSecond(0));
    expect(openToOthers(folder)).toEqual([]);
    store.finish('one', { endReason: 'button', endedAtMs: NOW_MS, refined: null });
    expect(openToOthers(folder)).toEqual([]);
  });

  test('that a command which records nothing has begun is the owner’s alone too', () => {
    const umask = process.umask(0o022);
    onTestFinished(() => void process.umask(umask));
    const folder = join(temporaryFolder(), 'new');
    openStore(folder).close();
    expect(modeOf(join(folder, 'feeds.sqlite'))).toBe('600');
    expect(openToOthers(folder)).toEqual([]);
  });

  test('among other things keeps their rights as they are', () => {
    const folder = openToAll(fullFolder(temporaryFolder()));
    fs.writeFileSync(join(folder, 'song.txt'), 'la');
    fs.chmodSync(join(folder, 'song.txt'), 0o644);
    const elsewhere = join(temporaryFolder(), 'shared.txt');
    fs.writeFileSync(elsewhere, 'x');
    fs.chmodSync(elsewhere, 0o644);
    fs.symlinkSync(elsewhere, join(folder, 'captures', 'link'));
    openStore(folder, { recording: true, nowMs: () => NOW_MS }).close();
    expect(modeOf(join(folder, 'song.txt'))).toBe('644');
    expect(modeOf(elsewhere)).toBe('644');
    expect(modeOf(folder)).toBe('755');
    expect(modeOf(join(folder, 'feeds.sqlite'))).toBe('600');
  });
});
