/** The audit trail of a house with many sleeves, and the records beside it. */

import { join } from 'node:path';
import Libsql from 'libsql';
import { describe, expect, it } from 'vitest';
import { DATABASE_FILE } from '../../src/store/data-folder.ts';
import { openDatabase } from '../../src/store/database/database.ts';
import { foreignParts } from '../../src/store/database/schema.ts';
import { openStore } from '../../src/store/open-store.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const entry = (part = {}) => ({
  atMs: 1000,
  person: 'ana',
  role: 'hold',
  act: 'looked-at-feeds' as const,
  babyId: 'baby-1',
  more: null,
  ...part,
});

function storeWith(lines: number) {
  const folder = temporaryFolder();
  const store = openStore(folder);
  for (let i = 0; i < lines; i++)
    store.ward(({ trail }) => trail.add(entry({ atMs: 1000 + i, more: `line ${i}` })));
  return { folder, file: join(folder, DATABASE_FILE), store };
}

describe('the trail', () => {
  it('is read newest first, of all or of one child', () => {
    const { store } = storeWith(3);
    store.ward(({ trail }) => trail.add(entry({ babyId: 'baby-2', act: 'bound' })));
    const all = store.ward(({ trail }) => trail.latest({ limit: 2 }));
    expect(all.map(({ no, act }) => [no, act])).toEqual([
      [4, 'bound'],
      [3, 'looked-at-feeds'],
    ]);
    expect(store.ward(({ trail }) => trail.latest({ limit: 9, babyId: 'baby-2' }))).toHaveLength(1);
    store.close();
  });

  it.each([
    ['changed', "UPDATE trail SET person = 'nobody'"],
    ['deleted', 'DELETE FROM trail WHERE no = 1'],
    ['replaced', "INSERT OR REPLACE INTO trail VALUES (1, 0, 'x', 'x', 'x', NULL, NULL, 'x')"],
  ])('cannot be %s, by any program that opens the file as it is', (_what, sql) => {
    const { file, store } = storeWith(2);
    store.close();
    const database = new Libsql(file);
    expect(() => database.exec(sql)).toThrow(/only added to/);
    database.close();
  });

  it('tells by a mark that was kept apart of lines that were cut off at its end', () => {
    const { file, store } = storeWith(4);
    const mark = store.ward(({ trail }) => trail.mark())!;
    expect(mark).toMatch(/^4-[0-9a-f]{16}$/);
    store.ward(({ trail }) => trail.add(entry()));
    expect(store.ward(({ trail }) => trail.isAsMarked(` ${mark.toUpperCase()}`))).toBe(true);
    for (const other of ['4-0000000000000000', `3-${mark.split('-')[1]}`, 'nonsense', ''])
      expect(store.ward(({ trail }) => trail.isAsMarked(other))).toBe(false);
    store.close();
    const database = new Libsql(file);
    database.exec('DROP TRIGGER trail_is_not_shortened; DELETE FROM trail WHERE no > 3');
    database.close();
    const again = openStore(join(file, '..'));
    // Without the mark the shortened trail looks complete.
    expect(again.ward(({ trail }) => [trail.firstBroken(), trail.isAsMarked(mark)])).toEqual([null, false]);
    again.close();
  });

  it('detects a line that was changed after the triggers were removed', () => {
    const { file, store } = storeWith(4);
    store.close();
    const database = new Libsql(file);
    database.exec("DROP TRIGGER trail_is_not_changed; UPDATE trail SET act = 'nothing' WHERE no = 2");
    database.close();
    const opened = openDatabase(file);
    expect(foreignParts(opened)).toEqual(['trigger trail_is_not_changed']);
    opened.close();
    const again = openStore(join(file, '..'));
    expect(again.ward(({ trail }) => trail.firstBroken())).toBe(2);
    again.close();
  });

  it('is whole as written, and a line taken out of its middle is missed', () => {
    const { file, store } = storeWith(4);
    expect(store.ward(({ trail }) => trail.firstBroken())).toBeNull();
    store.close();
    const database = new Libsql(file);
    database.exec('DROP TRIGGER trail_is_not_shortened; DELETE FROM trail WHERE no = 2');
    database.close();
    const again = openStore(join(file, '..'));
    expect(again.ward(({ trail }) => trail.firstBroken())).toBe(3);
    again.close();
  });

  it('has no line of a change that failed: both are one transaction', () => {
    const { store } = storeWith(0);
    expect(() =>
      store.ward(({ records, trail }) => {
        records.addStay({ babyId: 'baby-1', cot: 'A1', fromMs: 1 });
        trail.add(entry());
        throw new Error('the disk was away');
      }),
    ).toThrow('the disk was away');
    expect(store.ward(({ records, trail }) => [records.stays(), trail.latest({ limit: 9 })])).toEqual([
      [],
      [],
    ]);
    store.close();
  });
});
