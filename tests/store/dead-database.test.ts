/** A connection that never works again, and a file that is gone or was replaced: the feed is stored once that is possible, and nothing is written elsewhere. */
import * as fs from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { describe, expect, onTestFinished, test } from 'vitest';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { openDatabase } from '../../src/store/database/database.ts';
import type { FeedDatabase } from '../../src/store/database/feed-database.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { refusalOf } from '../support/refusals.ts';
import { begunFeed, bytesOfSecond, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const SqliteError = createRequire(import.meta.url)('libsql').SqliteError as new (
  message: string,
  code: string,
) => Error;
const END = { endReason: 'button', endedAtMs: Date.UTC(2026, 0, 5, 9, 20, 0), refined: null } as const;

type Values = [never];

/** Connections that fail for good when told to; while `isAway` none can be opened. */
function mortal() {
  const state = { opened: 0, isAway: false, kill: (_code: string): void => {} };
  const open = (file: string): FeedDatabase => {
    if (state.isAway) throw new SqliteError('away', 'SQLITE_CANTOPEN');
    state.opened++;
    const real = openDatabase(file);
    let dead: string | null = null;
    state.kill = (code) => {
      dead = code;
    };
    const unlessDead = <T>(action: () => T): T => {
      if (dead !== null) throw new SqliteError('dead', dead);
      return action();
    };
    return {
      exec: (sql: string) => unlessDead(() => real.exec(sql)),
      prepare: (sql: string) =>
        unlessDead(() => {
          const statement = real.prepare(sql);
          return {
            run: (...values: Values) => unlessDead(() => statement.run(...values)),
            all: (...values: Values) => unlessDead(() => statement.all(...values)),
          };
        }),
      close: () => real.close(),
      get inTransaction() {
        return real.inTransaction;
      },
    } as unknown as FeedDatabase;
  };
  return { state, open };
}

function recording(open?: (file: string) => FeedDatabase) {
  const folder = temporaryFolder();
  const store = openStore(folder, { recording: true, ...(open && { open }) });
  onTestFinished(() => store.close());
  store.begin(begunFeed('one'), null);
  store.append('one', partOfSecond(0, 700));
  return { folder, store, file: join(folder, 'feeds.sqlite') };
}

/** The part that a feed hands over when seconds `first` to `last` are waiting. */
function partOf(first: number, last: number) {
  const parts = Array.from({ length: last - first + 1 }, (_, i) => partOfSecond(first + i, 700));
  return {
    ...parts.at(-1)!,
    rows: parts.flatMap(({ rows }) => rows),
    cues: parts.flatMap(({ cues }) => cues),
    told: parts.flatMap(({ told }) => told ?? []),
    events: parts.flatMap(({ events }) => events),
    bytes: parts.flatMap(({ bytes }) => bytes),
  };
}

const sent = (seconds: number): Buffer =>
  Buffer.concat(Array.from({ length: seconds }, (_, second) => bytesOfSecond(second, 700)));

function expectWhole(store: FeedStore, seconds: number): void {
  const feed = store.get('one')!;
  expect(feed.state).toBe('ended');
  expect(feed.rows).toEqual(partOf(0, seconds - 1).rows);
  expect(sent(seconds).equals(readCapture(store.capturePath('one')!).bytes)).toBe(true);
}

describe('a connection that is dead for good', () => {
  test.each([
    'SQLITE_IOERR',
    'SQLITE_IOERR_READ',
    'SQLITE_NOTADB',
    'SQLITE_CORRUPT',
    'SQLITE_READONLY_DBMOVED',
    'SQLITE_MISUSE',
  ])('%s: it is told once, and the next try goes through a new one', (code) => {
    const { state, open } = mortal();
    const { store } = recording(open);
    state.kill(code);
    expect(refusalOf(() => store.append('one', partOf(1, 1))).code).toMatch(/^store-/);
    store.append('one', partOf(1, 2));
    expect(state.opened).toBe(2);
    store.finish('one', END);
    expectWhole(store, 3);
  });

  test('waits as long as none can be opened; all that waited is kept then', () => {
    const { state, open } = mortal();
    const { store } = recording(open);
    state.kill('SQLITE_IOERR');
    state.isAway = true;
    for (let second = 1; second < 30; second++)
      expect(refusalOf(() => store.append('one', partOf(1, second))).code).toMatch(/^store-/);
    state.isAway = false;
    store.append('one', partOf(1, 30));
    store.finish('one', END);
    expectWhole(store, 31);
  });

  test('a new one waits for other commands no longer than the one before', () => {
    const opened: FeedDatabase[] = [];
    const { state, open } = mortal();
    const { store } = recording((file) => {
      opened.push(open(file));
      return opened.at(-1)!;
    });
    state.kill('SQLITE_IOERR');
    refusalOf(() => store.list());
    store.list();
    expect(opened.at(-1)!.prepare('PRAGMA busy_timeout').all()).toEqual([{ timeout: 200 }]);
  });
});

describe('a file that is taken away under it', () => {
  test('is said; its bytes go on into the capture, and all is kept once the file is back', () => {
    const { store, file } = recording();
    fs.renameSync(file, `${file}.away`);
    const refusal = refusalOf(() => store.append('one', partOf(1, 1)));
    expect(refusal).toMatchObject({ code: 'store-gone', message: expect.stringContaining('was removed') });
    expect(fs.existsSync(file)).toBe(false);
    expect(refusalOf(() => store.append('one', partOf(1, 2))).code).toBe('store-gone');
    expect(sent(3).equals(fs.readFileSync(join(file, '..', 'captures', 'one.cap')))).toBe(true);
    fs.renameSync(`${file}.away`, file);
    store.append('one', partOf(1, 3));
    store.finish('one', END);
    expectWhole(store, 4);
  });

  test('whoever only reads goes on with the one that lies there now', () => {
    const { store, folder, file } = recording();
    store.close();
    const reader = openStore(folder);
    onTestFinished(() => reader.close());
    expect(reader.list()).toHaveLength(1);
    const other = temporaryFolder();
    openStore(other).close();
    fs.renameSync(file, `${file}.away`);
    fs.copyFileSync(join(other, 'feeds.sqlite'), file);
    expect(reader.list()).toEqual([]);
  });

  test('another one in its place is never written into', () => {
    const { store, file } = recording();
    const other = join(temporaryFolder(), 'feeds.sqlite');
    openDatabase(other).close();
    const bytes = fs.readFileSync(other);
    fs.renameSync(file, `${file}.away`);
    fs.copyFileSync(other, file);
    expect(refusalOf(() => store.append('one', partOf(1, 1))).message).toContain(
      'Another file lies now where',
    );
    expect(fs.readFileSync(file).equals(bytes)).toBe(true);
  });
});
