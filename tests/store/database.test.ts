import * as fs from 'node:fs';
import { join } from 'node:path';
import Libsql from 'libsql';
import { describe, expect, test } from 'vitest';
import { inTransaction, openDatabase, readPragma } from '../../src/store/database/database.ts';
import { MIGRATIONS } from '../../src/store/database/migrations.ts';
import { openStore } from '../../src/store/open-store.ts';
import { codeOf } from '../support/refusals.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const fileIn = (folder: string) => join(folder, 'feeds.sqlite');

describe('migrations', () => {
  test('a new database goes through all of them, once', () => {
    const file = fileIn(temporaryFolder());
    for (let round = 0; round < 2; round++) {
      const database = openDatabase(file);
      expect(readPragma(database, 'user_version')).toBe(MIGRATIONS.length);
      expect(readPragma(database, 'synchronous')).toBe(2); // FULL: sqlite.org/pragma.html#pragma_synchronous
      database.close();
    }
  });

  test('a released step is never changed: the shape of version 1', () => {
    const database = new Libsql(':memory:');
    database.exec(MIGRATIONS[0] as string);
    const tables = database
      .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")
      .all();
    expect(tables.map((table) => (table as { name: string }).name)).toEqual([
      'calibration',
      'cue',
      'feed',
      'feed_event',
      'feed_row',
      'refined_feed',
      'setting',
    ]);
    database.close();
  });

  test('feeds kept by version 1 are there afterwards, and are found', () => {
    const folder = temporaryFolder();
    const old = new Libsql(fileIn(folder));
    old.exec(`${MIGRATIONS[0]} PRAGMA user_version = 1; PRAGMA application_id = ${0x4542424c};
      INSERT INTO feed VALUES (1, 'old', 'ended', 'button', 0, 5000, 4000, 9000, 'bench-1', '{"babyName":"Wren"}', 'null', '0.1.0',
      'captures/old.cap.gz', 80, 0, 0, 600); INSERT INTO cue VALUES (1, 0, 30, 'burp', '15 mL')`);
    old.close();
    const store = openStore(folder);
    const [feed] = store.list({ onlyNames: ['Wren'], fromMs: 5000, toMs: 5001 });
    expect(feed).toMatchObject({ id: 'old', atMs: 5000, intakeMl: 80, cueCount: 1, corrected: null });
    store.close();
  });

  test('a transaction that fails keeps nothing', () => {
    const database = openDatabase(fileIn(temporaryFolder()));
    const insert = () => database.exec("INSERT INTO setting VALUES ('a', '1')");
    expect(() =>
      inTransaction(database, () => {
        insert();
        throw new Error('half-way');
      }),
    ).toThrow('half-way');
    expect(database.prepare('SELECT * FROM setting').all()).toEqual([]);
    inTransaction(database, insert);
    expect(database.prepare('SELECT * FROM setting').all()).toHaveLength(1);
    database.close();
  });
});

describe('databases that must be refused and left as they are', () => {
  function refusedUntouched(folder: string, code: string) {
    const before = fs.readFileSync(fileIn(folder));
    expect(codeOf(() => openStore(folder, { recording: true }))).toBe(code);
    expect(fs.readFileSync(fileIn(folder)).equals(before)).toBe(true);
    // The refused start has let go of the folder: a second one gets the same refusal, not "another is recording".
    expect(codeOf(() => openStore(folder, { recording: true }))).toBe(code);
  }

  test('from a newer version', () => {
    const folder = temporaryFolder();
    openStore(folder).close();
    const newer = new Libsql(fileIn(folder));
    newer.exec(`PRAGMA user_version = ${MIGRATIONS.length + 1}`);
    newer.close();
    refusedUntouched(folder, 'store-newer');
  });

  test("another program's database", () => {
    const folder = temporaryFolder();
    const foreign = new Libsql(fileIn(folder));
    foreign.exec('CREATE TABLE recipes (name TEXT)');
    foreign.close();
    refusedUntouched(folder, 'store-foreign');
  });

  test('no database at all', () => {
    const folder = temporaryFolder();
    fs.writeFileSync(fileIn(folder), 'Dear diary, '.repeat(500));
    refusedUntouched(folder, 'store-foreign');
  });

  test('a damaged one', () => {
    const folder = temporaryFolder();
    const store = openStore(folder, { recording: true });
    store.begin(begunFeed('one'), null);
    for (let second = 0; second < 200; second++) store.append('one', partOfSecond(second));
    store.close();
    const bytes = fs.readFileSync(fileIn(folder));
    expect(bytes.length).toBeGreaterThan(40_000);
    bytes.fill(0x5a, 4096); // all pages but the first
    fs.writeFileSync(fileIn(folder), bytes);
    expect(codeOf(() => openStore(folder).get('one'))).toBe('store-damaged');
  });

  test('one whose tables are gone', () => {
    const folder = temporaryFolder();
    openStore(folder).close();
    const damaged = new Libsql(fileIn(folder));
    damaged.exec('DROP TABLE cue');
    damaged.close();
    expect(codeOf(() => openStore(folder))).toBe('store-damaged');
  });
});
