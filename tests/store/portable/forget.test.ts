/** After a deletion no byte in the data folder contains the name; all other data stays. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import Libsql from 'libsql';
import { describe, expect, onTestFinished, test } from 'vitest';
import type { FeedStore } from '../../../src/store/feed-store.ts';
import { openStore } from '../../../src/store/open-store.ts';
import { archiveCaptures } from '../../../src/store/portable/archive.ts';
import { backUp } from '../../../src/store/portable/backup.ts';
import { forgetBaby } from '../../../src/store/portable/forget.ts';
import { forgetInFolder } from '../../../src/store/portable/forget-folder.ts';
import { holdFolder } from '../../../src/store/portable/held-folder.ts';
import { restoreInto } from '../../../src/store/portable/restore.ts';
import { babyEntry } from '../../support/babies.ts';
import { fullFolder, NOW_MS } from '../../support/full-store.ts';
import { letGo } from '../../support/let-go.ts';
import { codeOf } from '../../support/refusals.ts';
import { begunFeed, partOfSecond } from '../../support/store-samples.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';

/** Files in which the bytes of `text` stand, as UTF-8 or UTF-16, in large or small letters. */
function filesWith(folder: string, text: string): string[] {
  const wanted = [text, text.toLowerCase(), text.toUpperCase()].flatMap((form) => [
    Buffer.from(form, 'utf8'),
    Buffer.from(form, 'utf16le'),
  ]);
  return fs
    .readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => fs.statSync(join(folder, name)).isFile())
    .filter((name) => {
      const bytes = fs.readFileSync(join(folder, name));
      return wanted.some((form) => bytes.includes(form)) || name.toLowerCase().includes(text.toLowerCase());
    });
}

const opened = <T>(folder: string, action: (store: FeedStore) => T, recording = false): T => {
  const store = openStore(folder, { recording, nowMs: () => NOW_MS });
  try {
    return action(store);
  } finally {
    store.close();
  }
};

const idsIn = (folder: string) =>
  opened(folder, (store) => store.list({ discarded: true }).map(({ id }) => id)).join('');

describe('a forgotten baby', () => {
  test('leaves no byte of its name behind; the other keeps everything', async () => {
    const folder = fullFolder(temporaryFolder());
    const before = opened(folder, (store) => store.get('b'));
    const calibrations = opened(folder, (store) => store.calibrations());
    await letGo();
    expect(filesWith(folder, 'Wren')).toContain('feeds.sqlite');
    expect(filesWith(folder, 'bag 1')).toContain('feeds.sqlite');
    const result = forgetInFolder(folder, 'wren');
    expect(result).toEqual({
      feeds: 3,
      handFeeds: 1,
      milkEvents: 0,
      unreachable: [],
      mentions: 0,
      unnamed: 0,
      unsure: 0,
    });
    expect(filesWith(folder, 'Wren')).toEqual([]);
    expect(opened(folder, (store) => store.listBabies())).toEqual([]);
    // The word "sleepy" is only in this baby's note.
    expect(filesWith(folder, 'sleepy')).toEqual([]);
    expect(fs.readdirSync(join(folder, 'captures')).sort()).toEqual(['b.cap.cols', 'b.json']);
    opened(folder, (store) => {
      expect(store.list({ discarded: true }).map(({ id }) => id)).toEqual(['b']);
      expect(store.get('b')).toEqual(before);
      expect(store.listHandFeeds({ withdrawn: true }).map(({ babyName }) => babyName)).toEqual(['Linnet']);
      // Milk without a baby's name belongs to the others too, so it stays.
      expect(store.readMilkEvents()).toHaveLength(4);
      expect(store.calibrations()).toEqual(calibrations);
      // The last answers named the baby; other answers stay.
      expect(store.readSetup()).toMatchObject({
        babyName: null,
        babyBirthDate: null,
        portionMl: 95,
        caregiver: 'Juno',
      });
    });
  });

  test('who was the last one takes the milk ledger and the settings along', async () => {
    const folder = fullFolder(temporaryFolder());
    forgetInFolder(folder, 'Wren');
    await letGo();
    expect(forgetInFolder(folder, 'Linnet')).toMatchObject({ feeds: 1, handFeeds: 1, milkEvents: 4 });
    for (const trace of ['Linnet', 'Juno', 'bag 1', 'red cap'])
      expect([trace, filesWith(folder, trace)]).toEqual([trace, []]);
    expect(idsIn(folder)).toBe('');
    // These are about the sleeve and this computer, not about a baby.
    opened(folder, (store) => {
      expect([store.readSoundOn(), store.readDimmed()]).toEqual([true, true]);
      expect(store.calibrations()).toHaveLength(3);
    });
  });

  test('is not the one whose feed was kept under its name by mistake; there the name goes', async () => {
    const folder = fullFolder(temporaryFolder());
    opened(folder, (store) => store.correct('a', { kind: 'setup', setup: { babyName: 'Linnet' } }));
    opened(folder, (store) => store.correct('b', { kind: 'setup', setup: { babyName: 'Wren' } }));
    await letGo();
    expect(forgetInFolder(folder, 'Wren')).toMatchObject({ feeds: 3, mentions: 0 });
    expect(filesWith(folder, 'Wren')).toEqual([]);
    opened(folder, (store) => {
      const [kept] = store.list();
      expect(kept).toMatchObject({
        id: 'a',
        setup: { babyName: null, babyBirthDate: null, bottleName: 'blue cap' },
      });
      expect(kept!.corrected!.setup.babyName).toBe('Linnet');
    });
  });

  test('is found by its id, under every name it had, and a namesake stays', async () => {
    const folder = temporaryFolder();
    const { setup } = begunFeed('x');
    opened(
      folder,
      (store) => {
        const named = {
          p: ['b1', 'Wren'],
          q: ['b1', 'Little Wren'],
          r: ['b2', 'Wren'],
          s: [null, 'Little Wren'],
        };
        for (const [id, [babyId, babyName]] of Object.entries(named)) {
          store.begin(begunFeed(id, { setup: { ...setup, babyName: babyName!, babyId } as never }), null);
          store.finish(id, { endReason: 'button', endedAtMs: NOW_MS, refined: null });
        }
        expect(store.babiesKept().map(({ name }) => name)).toEqual(['Little Wren', 'Wren']);
      },
      true,
    );
    await letGo();
    expect(forgetInFolder(folder, 'B1').feeds).toBe(3);
    expect(idsIn(folder)).toBe('r');
    expect(filesWith(folder, 'Little Wren')).toEqual([]);
  });

  test('goes under its old name too, and with its record where it never had a feed', async () => {
    const folder = fullFolder(temporaryFolder());
    opened(folder, (store) => {
      const [wren] = store.listBabies();
      store.changeBaby(wren!.id, babyEntry({ name: 'Wren T.', birthDate: '2025-11-02' }));
      store.addBaby(babyEntry({ name: 'Robin' }));
    });
    await letGo();
    expect(forgetInFolder(folder, 'robin')).toMatchObject({ feeds: 0, handFeeds: 0 });
    expect(filesWith(folder, 'Robin')).toEqual([]);
    expect(forgetInFolder(folder, 'wren t.').feeds).toBe(3);
    expect(filesWith(folder, 'Wren')).toEqual([]);
    expect(idsIn(folder)).toBe('b');
  });

  test('of whose name there are two is not deleted before it is said which', async () => {
    const folder = fullFolder(temporaryFolder());
    const id = opened(folder, (store) => store.listBabies()[0]!.id);
    opened(folder, (store) =>
      store.correct('b', { kind: 'setup', setup: { babyId: 'other', babyName: 'Wren' } }),
    );
    await letGo();
    expect(codeOf(() => forgetInFolder(folder, 'Wren'))).toBe('forget-which');
    expect(idsIn(folder)).toBe('dcba');
    // Only "d" has this id; the others have only the name.
    expect(forgetInFolder(folder, id).feeds).toBe(1);
    expect(idsIn(folder)).toBe('cba');
  });

  test('says how many notes of other feeds still name the baby', async () => {
    const folder = fullFolder(temporaryFolder());
    opened(folder, (store) => store.correct('b', { kind: 'note', text: 'like Wren before' }));
    await letGo();
    // The correction itself, and what the corrections come to.
    expect(forgetInFolder(folder, 'Wren').mentions).toBe(2);
    opened(folder, (store) => expect(store.get('b')!.corrected!.note).toBe('like Wren before'));
  });

  test('is gone from captures that were put away, and from what a restore put aside', async () => {
    const folder = fullFolder(temporaryFolder());
    const away = temporaryFolder();
    const out = join(temporaryFolder(), 'all.tar');
    backUp(folder, out, { nowMs: NOW_MS, softwareVersion: '0.1.0' });
    await letGo();
    restoreInto(folder, out, { replace: true, nowMs: NOW_MS });
    const held = holdFolder(folder);
    archiveCaptures(held, { olderThanDays: 1, to: away }, NOW_MS);
    held.close();
    fs.rmSync(join(away, 'd.cap.cols'));
    await letGo();
    expect(filesWith(folder, 'Wren')).toContain(join('before-restore-20260109-120000', 'feeds.sqlite'));
    expect(forgetInFolder(folder, 'Wren').unreachable).toEqual([join(away, 'd.cap.cols')]);
    expect(filesWith(folder, 'Wren')).toEqual([]);
    expect(fs.readdirSync(away).filter((name) => name.endsWith('.cols'))).toEqual(['b.cap.cols']);
  });
});

test('a baby is forgotten in the stores inside the folder too: simulated feeds and practice', async () => {
  const folder = temporaryFolder();
  fullFolder(join(folder, 'simulated'));
  fullFolder(join(folder, 'practice'));
  await letGo();
  expect(forgetInFolder(folder, 'Wren')).toMatchObject({ feeds: 6, handFeeds: 2 });
  expect(filesWith(folder, 'Wren')).toEqual([]);
  expect(idsIn(join(folder, 'practice'))).toBe('b');
});

describe('nothing is deleted', () => {
  test('of a baby that nobody knows', () => {
    const folder = fullFolder(temporaryFolder());
    expect(codeOf(() => forgetInFolder(folder, 'Robin'))).toBe('forget-nobody');
    expect(idsIn(folder)).toBe('dcba');
  });

  test('while a feed runs; afterwards the page may ask for it', async () => {
    const folder = fullFolder(temporaryFolder());
    await letGo();
    const store = openStore(folder, { recording: true, nowMs: () => NOW_MS });
    onTestFinished(() => store.close());
    store.begin(begunFeed('runs'), null);
    store.append('runs', partOfSecond(0));
    expect(codeOf(() => store.forget('Wren'))).toBe('forget-running');
    expect(codeOf(() => forgetInFolder(folder, 'Wren'))).toBe('store-recording');
    store.finish('runs', { endReason: 'button', endedAtMs: NOW_MS, refined: null });
    expect(store.forget('Wren').feeds).toBe(4);
    expect(filesWith(folder, 'Wren')).toEqual([]);
    expect(store.list().map(({ id }) => id)).toEqual(['b']);
  });

  test('says that traces may be left while another program reads the database', async () => {
    const folder = fullFolder(temporaryFolder());
    const reader = new Libsql(join(folder, 'feeds.sqlite'));
    reader.exec('BEGIN; SELECT count(*) FROM feed');
    reader.prepare('SELECT count(*) FROM feed').all();
    const held = holdFolder(folder);
    held.database.exec('PRAGMA busy_timeout = 0');
    expect(codeOf(() => forgetBaby(held, 'Wren'))).toBe('forget-busy');
    reader.exec('COMMIT');
    held.close();
    expect(idsIn(folder)).toBe('b');
    expect(filesWith(folder, 'Wren')).toEqual([]);
  });
});
