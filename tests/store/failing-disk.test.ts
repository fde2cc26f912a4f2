/** Every call to disk and database fails in every way at every step of a feed; afterwards the feed is complete. */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { PlainError } from '../../src/base/errors.ts';
import { openDatabase } from '../../src/store/database/database.ts';
import type { FeedDatabase } from '../../src/store/database/feed-database.ts';
import { plainly } from '../../src/store/faults.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import {
  DATABASE_CALLS,
  DISK_CALLS,
  type FailingStorage,
  failingStorage,
} from '../support/failing-storage.ts';
import { failingStore } from '../support/failing-store.ts';
import { runs } from '../support/runs.ts';
import { begunFeed, bytesOfSecond, partOfSecond, refinedSample } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

/** POSIX errno.h: what a full, broken, slow, absent or strained disk may answer. */
const SYSTEM_CODES = [
  'ENOSPC',
  'EIO',
  'ETIMEDOUT',
  'EROFS',
  'EACCES',
  'ENOENT',
  'ESTALE',
  'EBUSY',
  'EDQUOT',
  'EFBIG',
  'EPERM',
  'ENXIO',
  'ENODEV',
  'ENOMEM',
  'EAGAIN',
  'EINTR',
  'EMFILE',
  'EPROTO',
];
/** sqlite.org/rescode.html */
const DATABASE_CODES = [
  'SQLITE_FULL',
  'SQLITE_IOERR',
  'SQLITE_BUSY',
  'SQLITE_LOCKED',
  'SQLITE_READONLY',
  'SQLITE_CANTOPEN',
  'SQLITE_CORRUPT',
  'SQLITE_NOMEM',
  'SQLITE_INTERRUPT',
  'SQLITE_PROTOCOL',
  'SQLITE_ERROR',
];
/** Errors after which the call may have taken effect. */
const MAY_BE_DONE = ['EIO', 'ETIMEDOUT', 'SQLITE_IOERR'];
const TIMEOUT_MS = 60_000;
const END = {
  endReason: 'button',
  endedAtMs: Date.UTC(2026, 0, 5, 9, 20, 0),
  refined: refinedSample(),
} as const;

/** What a feed does with its storage, in order: begin, first second, middle, last second, the end with the refined pass. */
const steps = (store: FeedStore, id: string) => [
  () => store.begin(begunFeed(id), { sleeveId: 'bench-1' }),
  ...[0, 1, 2].map((second) => () => store.append(id, partOfSecond(second, 700))),
  () => store.finish(id, END),
];

function expectWhole(store: FeedStore, id: string): void {
  const parts = [0, 1, 2].map((second) => partOfSecond(second, 700));
  const feed = store.get(id)!;
  expect(feed).toMatchObject({
    state: 'ended',
    endedAtMs: END.endedAtMs,
    intakeMl: END.refined.totals.intakeMl,
  });
  expect(feed.rows).toEqual(parts.flatMap(({ rows }) => rows));
  expect(feed.events).toEqual(parts.flatMap(({ events }) => events));
  expect(feed.refined).toMatchObject({ atSec: END.refined.atSec, totals: END.refined.totals });
  const sent = Buffer.concat([0, 1, 2].map((second) => bytesOfSecond(second, 700)));
  expect(sent.equals(readCapture(store.capturePath(id)!).bytes)).toBe(true);
}

type Calls = NonNullable<FailingStorage['trouble']>['calls'];

/** @returns whether the step was done; a refusal must say what to do */
function isTaken(step: () => void): boolean {
  try {
    step();
    return true;
  } catch (error) {
    expect(error).toBeInstanceOf(PlainError);
    return false;
  }
}

/** Runs a feed for each call alone, and for all calls together, at each step; the call is refused, or done and reported as failed. */
function failEverywhere(calls: Calls, code: string) {
  const folder = temporaryFolder();
  const storage = failingStorage();
  const store = openStore(folder, { recording: true, disk: storage.disk, open: storage.open });
  const ids: string[] = [];
  for (const failing of [...calls.map((call) => [call]), calls]) {
    for (const done of MAY_BE_DONE.includes(code) ? [false, true] : [false]) {
      const id = `feed-${ids.length}`;
      ids.push(id);
      for (const step of steps(store, id)) {
        storage.trouble = { calls: failing, code, done };
        const taken = isTaken(step) || isTaken(step);
        storage.trouble = null;
        if (!taken) step();
      }
      expectWhole(store, id);
    }
  }
  expect(storage.failures).toBeGreaterThan(2 * ids.length);
  store.close();
  // What could not be packed is packed by the next start.
  const again = openStore(folder, { recording: true });
  onTestFinished(() => again.close());
  expect(again.unfinished()).toEqual([]);
  for (const id of ids) expectWhole(again, id);
  const left = fs.readdirSync(join(folder, 'captures')).sort();
  expect(left).toEqual(ids.flatMap((id) => [`${id}.cap.cols`, `${id}.json`]).sort());
}

/** All codes are treated alike; the quick lane tries some of them, both those after which the call may have taken effect and others. */
const FEW = runs({ quick: 8, all: SYSTEM_CODES.length + DATABASE_CODES.length });

describe('a feed is whole once the fault is over, whichever call failed at whichever step', () => {
  test.each(SYSTEM_CODES.slice(0, FEW))(
    'the disk: %s',
    (code) => failEverywhere(DISK_CALLS, code),
    TIMEOUT_MS,
  );
  test.each(DATABASE_CODES.slice(0, FEW))(
    'the database: %s',
    (code) => failEverywhere(DATABASE_CALLS, code),
    TIMEOUT_MS,
  );
});

describe('a disk with room for so many bytes', () => {
  // From no room at all to nearly all that a feed of three seconds writes.
  test.each([0, 1, 300, 800, 1500, 2500])('%i: the feed goes on once there is more', (room) => {
    const { storage, store } = failingStore();
    storage.trouble = { calls: [], code: 'ENOSPC', room };
    const all = steps(store, 'one');
    const firstRefused = all.findIndex((step) => !isTaken(step));
    storage.trouble = null;
    // If only the packing failed, no step was refused: the next start packs.
    if (firstRefused >= 0) for (const step of all.slice(firstRefused)) step();
    expect(storage.failures).toBeGreaterThan(0);
    expectWhole(store, 'one');
  });
});

describe('a begin that is tried again', () => {
  test('after the note found no room is not a matter of permission', () => {
    const { storage, store } = failingStore();
    storage.trouble = { calls: ['renameSync', 'rmSync'], code: 'ENOSPC' };
    for (let i = 0; i < 3; i++) {
      expect(() => store.begin(begunFeed('one'), null)).toThrow(/disk that holds .* is full/);
    }
    storage.trouble = null;
    store.begin(begunFeed('one'), null);
    expect(store.get('one')).toMatchObject({ id: 'one', state: 'open' });
  });

  test.each([
    ['a capture with bytes', (captures: string) => fs.writeFileSync(join(captures, 'one.cap'), 'bytes')],
    ['a packed capture', (captures: string) => fs.writeFileSync(join(captures, 'one.cap.cols'), 'bytes')],
    ['a note', (captures: string) => fs.writeFileSync(join(captures, 'one.json'), '{}')],
  ])('never takes over %s of another feed', (_what, lay) => {
    const folder = temporaryFolder();
    const store = openStore(folder, { recording: true });
    onTestFinished(() => store.close());
    const captures = join(folder, 'captures');
    lay(captures);
    const names = fs.readdirSync(captures);
    const texts = names.map((name) => fs.readFileSync(join(captures, name), 'utf8'));
    for (let i = 0; i < 2; i++)
      expect(() => store.begin(begunFeed('one'), null)).toThrow('Something else is kept');
    expect(fs.readdirSync(captures)).toEqual(names);
    expect(names.map((name) => fs.readFileSync(join(captures, name), 'utf8'))).toEqual(texts);
    expect(store.get('one')).toBeNull();
  });

  test('never takes over a feed that has rows, nor one of another time or sleeve', () => {
    const folder = temporaryFolder();
    const first = openStore(folder, { recording: true });
    first.begin(begunFeed('rows'), null);
    first.append('rows', partOfSecond(0, 0));
    first.begin(begunFeed('time'), null);
    first.close();
    const store = openStore(folder, { recording: true });
    onTestFinished(() => store.close());
    const begin =
      (id: string, changes = {}) =>
      () =>
        store.begin(begunFeed(id, changes), null);
    expect(begin('rows')).toThrow('Something else is kept');
    expect(begin('time', { startedAtMs: 1 })).toThrow('Something else is kept');
    expect(begin('time', { sleeveId: 'bench-2' })).toThrow('Something else is kept');
    expect(store.get('rows')!.rows).toHaveLength(2);
  });

  test('takes over its own row and empty capture, whatever a killed process left of the two', () => {
    const folder = temporaryFolder();
    const first = openStore(folder, { recording: true });
    first.begin(begunFeed('one'), null);
    first.close();
    fs.rmSync(join(folder, 'captures', 'one.json'));
    const store = openStore(folder, { recording: true });
    onTestFinished(() => store.close());
    for (const step of steps(store, 'one')) step();
    expectWhole(store, 'one');
  });
});

test('what a begin left that nothing followed is cleared away at the next start', () => {
  const folder = temporaryFolder();
  openStore(folder, { recording: true }).close();
  const captures = join(folder, 'captures');
  fs.writeFileSync(join(captures, 'gone.cap'), '');
  fs.writeFileSync(join(captures, 'gone.json'), '{}');
  fs.writeFileSync(join(captures, 'stray.cap'), 'bytes');
  openStore(folder, { recording: true }).close();
  expect(fs.readdirSync(captures)).toEqual(['stray.cap']);
});

test('whoever records does not stand still while another command holds the database', () => {
  const databases: FeedDatabase[] = [];
  const open = (file: string) => {
    const database = openDatabase(file);
    databases.push(database);
    return database;
  };
  const store = openStore(temporaryFolder(), { recording: true, open });
  onTestFinished(() => store.close());
  // Two ticks of the live feed: less than measurements need to be stale.
  expect(databases[0]!.prepare('PRAGMA busy_timeout').all()).toEqual([{ timeout: 200 }]);
});

describe('what is no fault of the disk', () => {
  test.each([
    new TypeError('x is not a function'),
    new RangeError('EIO'),
    Object.assign(new TypeError('x'), { code: 'ERR_INVALID_ARG_TYPE' }),
  ])('is not taken for one: %s', (error) => {
    expect(() =>
      plainly('there', () => {
        throw error;
      }),
    ).toThrow(error);
  });
});
