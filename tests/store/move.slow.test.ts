/** A family's folder moved into a database and back: the same bits, and a move that was cut is completed by the next one. */
import { cpSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Libsql from 'libsql';
import { describe, expect, it } from 'vitest';
import { closeDatabase, inTransaction, openDatabase } from '../../src/store/database/database.ts';
import { move } from '../../src/store/move/move.ts';
import { openStore } from '../../src/store/open-store.ts';
import { exportTo } from '../../src/store/portable/export.ts';
import { importInto } from '../../src/store/portable/import.ts';
import { openStoreAt } from '../../src/store/postgres/postgres-store.ts';
import { Trail } from '../../src/store/ward/trail.ts';
import { fullFolder, NOW_MS } from '../support/full-store.ts';
import { noPostgres, sharedPostgres } from '../support/postgres.ts';
import { freshPlace, recordingAt } from '../support/postgres-store.ts';
import { codeOf, refusalOf } from '../support/refusals.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

/** A full store with a study's file, a feed cut in its middle, and a capture that no feed owns. */
function familyFolder(): string {
  const folder = fullFolder(join(temporaryFolder(), 'family'));
  const store = openStore(folder, { recording: true, nowMs: () => NOW_MS });
  store.begin(begunFeed('half', { startedAtMs: NOW_MS, sampleZeroAtMs: NOW_MS }), {});
  for (let second = 0; second < 70; second++) store.append('half', partOfSecond(second, 9000));
  store.close();
  const database = openDatabase(join(folder, 'feeds.sqlite'));
  const trail = new Trail(database);
  for (const act of ['looked-at-feeds', 'filled'] as const)
    inTransaction(database, () =>
      trail.add({ atMs: NOW_MS, person: 'J.', role: 'lead', act, babyId: 'x', more: null }),
    );
  closeDatabase(database);
  mkdirSync(join(folder, 'studies/pilot'), { recursive: true });
  writeFileSync(join(folder, 'studies/pilot/protocol.json'), '{"invented":true}\n');
  cpSync(join(folder, 'captures/half.cap'), join(folder, 'captures/stray.cap'));
  return folder;
}

/** All tables, read by SQL alone, without code of the move. */
function rowsIn(folder: string): unknown {
  const database = new Libsql(join(folder, 'feeds.sqlite'));
  const tables = database
    .prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")
    .all() as {
    name: string;
  }[];
  const rows = tables.map(({ name }) => [
    name,
    database.prepare(`SELECT * FROM ${name} ORDER BY 1, 2`).all(),
  ]);
  database.close();
  return rows;
}

const filesIn = (folder: string): Record<string, string> =>
  Object.fromEntries(
    ['captures', 'studies']
      .flatMap((inside) =>
        readdirSync(join(folder, inside), { recursive: true, encoding: 'utf8' }).map((name) =>
          join(inside, name),
        ),
      )
      .filter((name) => /\./.test(name))
      .sort()
      .map((name) => [name, readFileSync(join(folder, name)).toString('hex')]),
  );

describe.skipIf(noPostgres !== null)('a move', () => {
  it('over and back gives the same rows, the same files and the same export', async () => {
    const place = freshPlace(await sharedPostgres());
    const [family, back] = [familyFolder(), join(temporaryFolder(), 'back')];
    const told: number[][] = [];
    const there = move(family, place, (done, of) => told.push([done, of]));
    expect(told.at(-1)).toEqual([told.length, told.length]);
    expect(there).toMatchObject({ feeds: 5, from: family });
    const again = move(place, back);
    expect(again.sha256).toBe(there.sha256);
    expect(rowsIn(back)).toEqual(rowsIn(family));
    expect(filesIn(back)).toEqual(filesIn(family));
    const inDatabase = openStoreAt(place, { nowMs: () => NOW_MS });
    const outs = [openStore(family), inDatabase, openStore(back)].map((store, i) => {
      const out = join(temporaryFolder(), String(i));
      exportTo(store, out, { captures: true, softwareVersion: '0.1.0', nowMs: NOW_MS });
      store.close();
      return readdirSync(out, { recursive: true, encoding: 'utf8' })
        .filter((name) => /\.\w+$/.test(name))
        .sort()
        .map((name) => [name, readFileSync(join(out, name)).toString('hex')]);
    });
    expect(outs[1]).toEqual(outs[0]);
    expect(outs[2]).toEqual(outs[0]);
  });

  it('goes on there as if it had always been there: the next numbers, corrections, the half-finished feed', async () => {
    const place = freshPlace(await sharedPostgres());
    const family = familyFolder();
    move(family, place);
    const stores = [openStore(family, { recording: true, nowMs: () => NOW_MS }), recordingAt(place)];
    const [ofFolder, ofDatabase] = stores.map((store) => {
      store.appendMilkEvents([
        { atMs: NOW_MS, babyId: null, container: 'bag 2', kind: 'got', entry: { ml: 10 } },
      ]);
      store.correct('a', { kind: 'note', text: 'later' });
      return [store.readMilkEvents(), store.unfinished(), store.recover('half', null), store.get('half')];
    });
    stores[0]!.close();
    expect(ofDatabase).toEqual(ofFolder);
  });

  it('that was cut is taken up by the same command', async () => {
    const place = freshPlace(await sharedPostgres());
    const [family, back] = [familyFolder(), join(temporaryFolder(), 'back')];
    for (const [from, to] of [
      [family, place],
      [place, back],
    ] as const) {
      let steps = 0;
      move(family, freshPlace(await sharedPostgres()), () => steps++);
      for (let cutAt = 1; cutAt < steps; cutAt += 3) {
        const cut = (done: number): void => {
          if (done === cutAt) throw new RangeError('cut');
        };
        expect(() => move(from, to, cut)).toThrow(RangeError);
      }
      move(from, to);
    }
    expect(rowsIn(back)).toEqual(rowsIn(family));
    expect(filesIn(back)).toEqual(filesIn(family));
  });

  it('never mixes with what is kept there, and leaves alone what is recorded just now', async () => {
    const place = freshPlace(await sharedPostgres());
    const family = familyFolder();
    const store = recordingAt(place);
    store.begin(begunFeed('now'), {});
    expect(codeOf(() => move(place, join(temporaryFolder(), 'x')))).toBe('store-recording');
    store.append('now', partOfSecond(0));
    store.close();
    expect(refusalOf(() => move(family, place))).toMatchObject({ code: 'move-occupied' });
    expect(codeOf(() => move(family, { ...place, site: 'other' }))).toBe('nothing was refused');
    expect(codeOf(() => move(join(temporaryFolder(), 'nothing'), place))).toBe('move-nothing');
    expect(codeOf(() => move(family, family))).toMatch(/store-recording|move-same/);
    const held = openStore(family, { recording: true });
    expect(codeOf(() => move(family, { ...place, site: 'third' }))).toBe('store-recording');
    held.close();
  });
});

describe.skipIf(noPostgres !== null)('the database’s own tools', () => {
  it('pg_dump and pg_restore bring every feed back, with its rights', async () => {
    const server = await sharedPostgres();
    const [place, other] = [freshPlace(server), freshPlace(server)];
    const [family, back] = [familyFolder(), join(temporaryFolder(), 'back')];
    move(family, place);
    const file = join(temporaryFolder(), 'dump');
    writeFileSync(file, server.tool('pg_dump', ['-Fc', place.name]));
    server.tool('pg_restore', ['--exit-on-error', '-d', other.name, file]);
    move(other, back);
    expect(rowsIn(back)).toEqual(rowsIn(family));
    expect(filesIn(back)).toEqual(filesIn(family));
    const policies = (name: string) =>
      server.sql(name, 'SELECT tablename, policyname, roles, qual FROM pg_policies ORDER BY 1, 2');
    expect(policies(other.name)).toEqual(policies(place.name));
    expect(existsSync(file)).toBe(true);
    rmSync(file);
  });
});

describe.skipIf(noPostgres !== null)('an export out of a database', () => {
  it('comes into a folder with nothing lost', async () => {
    const place = freshPlace(await sharedPostgres());
    move(familyFolder(), place);
    const [out, folder] = [join(temporaryFolder(), 'out'), temporaryFolder()];
    const store = openStoreAt(place);
    exportTo(store, out, { captures: true, softwareVersion: '0.1.0', nowMs: NOW_MS });
    expect(importInto(folder, out, NOW_MS)).toMatchObject({
      feeds: 4,
      handFeeds: 2,
      milkEvents: 4,
      setAside: [],
    });
    const imported = openStore(folder);
    for (const id of ['a', 'b', 'c', 'd']) {
      const { captureFile: _one, ...feed } = imported.get(id)!;
      const { captureFile: _other, ...kept } = store.get(id)!;
      expect(feed).toEqual(kept);
    }
    for (const one of [store, imported]) one.close();
  });
});
