/** Assigning feeds to babies: data of an older version gets ids where the baby is certain; elsewhere somebody is asked. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gunzipSync } from 'node:zlib';
import { describe, expect, onTestFinished, test } from 'vitest';
import { guideFrom, pastFeeds } from '../../src/app/babies/babies-service.ts';
import { isOf, isOpen, type KnownBaby } from '../../src/base/babies.ts';
import { HELD_BACK } from '../../src/pacing/screening.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { exportTo } from '../../src/store/portable/export.ts';
import { importInto } from '../../src/store/portable/import.ts';
import { restoreInto } from '../../src/store/portable/restore.ts';
import { babyEntry } from '../support/babies.ts';
import { letGo } from '../support/let-go.ts';
import { codeOf } from '../support/refusals.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

/**
 * Made by the version that kept feeds by name (data version 4, export version 1). Wren and Linnet are entered. Of Wren: six feeds by id, six by name
 * (one as WREN), one written in by hand by name. One each: Linnet by id, Robin by name, a Wren born in 2024 by name, nobody.
 */
const BEFORE = fileURLToPath(new URL('../fixtures/kept-data-4/', import.meta.url));
const NOW_MS = Date.UTC(2026, 0, 20, 18);

function opened(folder: string, recording = false): FeedStore {
  const store = openStore(folder, { recording, nowMs: () => NOW_MS });
  onTestFinished(() => store.close());
  return store;
}

function restored(): FeedStore {
  const folder = join(temporaryFolder(), 'data');
  const tar = join(temporaryFolder(), 'all.tar');
  writeFileSync(tar, gunzipSync(readFileSync(join(BEFORE, 'all.tar.gz'))));
  restoreInto(folder, tar, { replace: false, nowMs: NOW_MS });
  return opened(folder, true);
}

function imported(from: string = join(BEFORE, 'ebbline.jsonl')): FeedStore {
  const folder = join(temporaryFolder(), 'data');
  importInto(folder, from, NOW_MS);
  return opened(folder, true);
}

const called = (store: FeedStore, name: string): KnownBaby =>
  store.allBabies().find((one) => one.name === name && !isOpen(one))!;
const summary = (store: FeedStore) =>
  store.allBabies().map(({ name, isKept, feeds, handFeeds, mayBe }) => ({
    ...{ name, isKept, feeds, handFeeds, open: mayBe.length },
  }));

const ALL = [
  { name: 'Wren', isKept: true, feeds: 12, handFeeds: 1, open: 0 },
  { name: null, isKept: false, feeds: 1, handFeeds: 0, open: 0 },
  { name: 'Wren', isKept: false, feeds: 1, handFeeds: 0, open: 1 },
  { name: 'Robin', isKept: false, feeds: 1, handFeeds: 0, open: 0 },
  { name: 'Linnet', isKept: true, feeds: 1, handFeeds: 0, open: 0 },
];

describe.each([
  ['a backup', restored],
  ['an export', imported],
])('%s of the version before', (_what, open) => {
  test('comes under ids where a name can mean one baby only', () => {
    const store = open();
    expect(summary(store)).toEqual(ALL);
    const { id } = called(store, 'Wren');
    // What was entered first is still there.
    expect(store.get('typed-1')).toMatchObject({
      setup: { babyName: 'Wren' },
      corrected: { setup: { babyId: id, babyName: 'Wren' }, reading: { offeredMl: 90, leftMl: 10 } },
    });
    expect(store.get('typed-1')!.setup.babyId ?? null).toBeNull();
    expect(pastFeeds(store, id!)).toHaveLength(12);
    expect(store.readMilkEvents().map(({ babyId }) => babyId)).toEqual([null]);
  });

  test('keeps all of a baby that is renamed then', () => {
    const store = open();
    const { id } = called(store, 'Wren');
    store.changeBaby(id!, babyEntry({ name: 'Jay', birthDate: '2025-11-02' }));
    expect(called(store, 'Jay')).toMatchObject({ id, feeds: 12, handFeeds: 1 });
    expect(store.listHandFeeds().every((feed) => isOf(feed, { id, name: null }))).toBe(true);
  });

  test('asks about a namesake that was born on another day; one answer settles it', () => {
    const store = open();
    store.sayWhose('wren', called(store, 'Wren').id);
    expect(called(store, 'Wren').feeds).toBe(13);
    expect(store.allBabies().some(isOpen)).toBe(false);
    expect(codeOf(() => store.sayWhose('Wren', null))).toBe('whose-nothing');
  });

  test('or it is another baby, of whom nobody is asked again', () => {
    const store = open();
    store.sayWhose('Wren', null);
    expect(store.allBabies().some(isOpen)).toBe(false);
    const wrens = store.allBabies().filter(({ name }) => name === 'Wren');
    expect(wrens.map(({ isKept, birthDay, feeds }) => [isKept, birthDay, feeds])).toEqual([
      [true, '2025-11-02', 12],
      [false, '2024-05-06', 1],
    ]);
    expect(wrens[1]!.id).not.toBeNull();
  });

  test('is forgotten by id; a feed that may be another baby’s stays, and it is said', async () => {
    const store = open();
    const { id } = called(store, 'Wren');
    await letGo();
    expect(store.forget(id!)).toMatchObject({ feeds: 12, handFeeds: 1, unsure: 1, unnamed: 1 });
    expect(store.get('other-wren')!.setup.babyName).toBe('Wren');
  });

  test('goes out and in again as it stands, open questions too', () => {
    const store = open();
    const out = join(temporaryFolder(), 'out');
    exportTo(store, out, { captures: false, softwareVersion: '0.1.0', nowMs: NOW_MS });
    expect(summary(imported(out))).toEqual(ALL);
  });
});

describe('two babies of one name', () => {
  function namesakes(): FeedStore {
    const store = opened(join(temporaryFolder(), 'data'), true);
    for (const [id, babyId, birthDate] of [
      ['a', 'one', '2025-11-02'],
      ['b', 'two', '2024-05-06'],
      ['c', null, null],
      ['d', null, '2024-05-06'],
    ] as const)
      kept(store, id, { babyId, babyName: 'Wren', babyBirthDate: birthDate });
    return store;
  }

  test('are never guessed between, and the rest goes on', () => {
    const store = namesakes();
    const open = store.allBabies().filter(isOpen);
    expect(open.map(({ id, feeds, mayBe }) => [id, feeds, [...mayBe].sort()])).toEqual([
      [null, 2, ['one', 'two']],
    ]);
    expect(codeOf(() => store.sayWhose('Wren', 'Wren'))).toBe('baby-which');
    expect(codeOf(() => store.sayWhose('Wren', 'Robin'))).toBe('whose-nobody');
    store.sayWhose('Wren', 'two');
    expect(
      store
        .list({ babyId: 'two' })
        .map(({ id }) => id)
        .sort(),
    ).toEqual(['b', 'c', 'd']);
  });

  test('as a third is entered under the name, feeds by name still are nobody’s', () => {
    const store = namesakes();
    store.addBaby(babyEntry({ birthDate: '2024-05-06' }));
    expect(store.list({ onlyNames: ['Wren'] })).toHaveLength(2);
  });
});

describe('a baby that is entered after its first feeds', () => {
  test('has them from then on; they do not make its sleeve quieter', () => {
    const store = opened(join(temporaryFolder(), 'data'), true);
    for (let i = 0; i < 8; i++)
      kept(
        store,
        `f-${i}`,
        { babyName: ' wren', babyBirthDate: '2025-09-02', caregiver: 'J.' },
        NOW_MS - (i + 1) * 4 * 3_600_000,
      );
    const { id } = store.addBaby(babyEntry());
    expect(pastFeeds(store, id)).toHaveLength(8);
    const setup = { ...begunFeed('x').setup, babyId: id, babyName: 'Wren', caregiver: 'J.' };
    const { ran } = guideFrom(store, () => NOW_MS, false)(setup);
    expect(ran!.guidance).toMatchObject({ quiet: 'usual', cuesOff: [] });
  });

  test('is still not taken for whoever is only typed in under its name: no cues without the questions', () => {
    const store = restored();
    const setup = { ...begunFeed('x').setup, babyId: null, babyName: 'Wren', babyBirthDate: '2025-11-02' };
    const { ran, notices } = guideFrom(store, () => NOW_MS, false)(setup);
    expect(notices).toContain('not-screened');
    expect(ran!.guidance.cuesOff).toEqual(expect.arrayContaining([...HELD_BACK]));
    kept(store, 'typed-later', setup);
    expect(store.list({ onlyNames: ['Wren'] }).map(({ id }) => id)).toContain('typed-later');
  });
});

function kept(store: FeedStore, id: string, who: object, startedAtMs = NOW_MS - 3_600_000): void {
  const setup = { ...begunFeed(id).setup, ...who };
  store.begin(begunFeed(id, { startedAtMs, sampleZeroAtMs: startedAtMs, setup }), null);
  store.append(id, { ...partOfSecond(0), intakeMl: 90, durationSec: 900 });
  store.finish(id, { endReason: 'page', endedAtMs: startedAtMs + 900_000, refined: null });
}
