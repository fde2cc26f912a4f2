/** What a house with many keeps is the same on both engines, and neither lets anybody change the trail. */
import { describe, expect, it, onTestFinished } from 'vitest';
import { openStore } from '../../src/store/open-store.ts';
import { openStoreAt } from '../../src/store/postgres/postgres-store.ts';
import type { Ward } from '../../src/store/ward/ward-records.ts';
import { noPostgres, sharedPostgres } from '../support/postgres.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const STEPS: ((ward: Ward) => unknown)[] = [
  ({ records }) => records.addStay({ babyId: 'baby-1', cot: 'A1', fromMs: 10 }),
  ({ records }) =>
    records.addLabel({ code: 'AAAAAAAAAA', kind: 'child', babyId: 'baby-1', sleeve: null, madeAtMs: 11 }),
  ({ records }) =>
    records.addLabel({ code: 'BBBBBBBBBB', kind: 'bottle', babyId: null, sleeve: null, madeAtMs: 12 }),
  ({ records }) =>
    records.addLabel({
      code: 'SSSSSSSSSS',
      kind: 'sleeve',
      babyId: null,
      sleeve: 4_000_000_000,
      madeAtMs: 12,
    }),
  ({ records }) => records.addFilling({ bottle: 'BBBBBBBBBB', babyId: 'baby-1', container: '7', atMs: 13 }),
  ({ records }) =>
    records.bind({
      atMs: 14,
      babyId: 'baby-1',
      bottle: 'BBBBBBBBBB',
      sleeve: 4_000_000_000,
      container: '7',
      by: 'ana',
    }),
  ({ records }) => records.nameFeed(4_000_000_000, 'feed-1'),
  ({ records }) => records.bindings(),
  ({ records }) => records.endFilling('BBBBBBBBBB', 20),
  ({ records }) => records.unbind(4_000_000_000, 21),
  ({ records }) => records.voidLabels({ babyId: 'baby-1', sleeve: null }, 22),
  ({ records }) => records.endStay('baby-1', 23),
  ({ records }) =>
    records.addConsent({
      babyId: 'baby-1',
      what: 'parent',
      person: 'p-1',
      fromMs: 1,
      untilMs: null,
      givenTo: 'ana',
    }),
  ({ records }) => records.endConsent(1, 30),
  ({ records }) => [
    records.labels(),
    records.stays(),
    records.fillings(),
    records.bindingsBetween(0, 99),
    records.consents(),
  ],
  ({ trail }) =>
    trail.add({ atMs: 1.5, person: 'ana', role: 'hold', act: 'bound', babyId: 'baby-1', more: null }),
  ({ trail }) =>
    trail.add({ atMs: 2, person: 'bo', role: 'lead', act: 'looked-at-trail', babyId: null, more: 'A1' }),
  ({ trail }) => [
    trail.latest({ limit: 9 }),
    trail.latest({ limit: 1, babyId: 'baby-1' }),
    trail.firstBroken(),
  ],
];

describe.skipIf(noPostgres !== null)('a house with many, on SQLite and PostgreSQL', () => {
  it('is answered the same, step by step; the trail is only added to', async () => {
    const server = await sharedPostgres();
    const { url } = server.freshDatabase();
    const sqlite = openStore(temporaryFolder());
    const postgres = openStoreAt({ database: url, databasePasswordFile: server.passwordFile }, {});
    onTestFinished(() => {
      sqlite.close();
      postgres.close();
    });
    for (const [number, step] of STEPS.entries())
      expect([number, postgres.ward(step)]).toEqual([number, sqlite.ward(step)]);
    const database = (postgres as unknown as { database: { exec(sql: string): void } }).database;
    for (const sql of ["UPDATE trail SET person = 'x'", 'DELETE FROM trail', 'TRUNCATE trail'])
      expect(() => database.exec(sql)).toThrow(/only added to/);
    expect(postgres.ward(({ trail }) => trail.firstBroken())).toBeNull();
  });
});
