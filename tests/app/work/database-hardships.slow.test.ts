/** A real database that is slow, and then full, in the midst of feeds: guidance goes on, the trouble is reported, and every feed is stored whole afterwards. */
import { describe, expect, it, onTestFinished } from 'vitest';
import { noBroker } from '../../support/broker.ts';
import { requireBuild } from '../../support/command.ts';
import { noPostgres } from '../../support/postgres.ts';
import { temporaryFolder } from '../../support/temporary-folder.ts';
import { checkedFeeds } from '../../support/ward/checks.ts';
import { startWard } from '../../support/ward/ward.ts';

const missing = noBroker ?? noPostgres;
const PATIENT = { timeout: 240_000, interval: 500 };

/** What the server does before it stores each part of a feed. */
const HARDSHIPS = {
  /** Like a disk that hangs. */
  slow: 'PERFORM pg_sleep(3)',
  /** The error of a full disk: class 53 of the PostgreSQL manual, appendix A. */
  full: `RAISE EXCEPTION 'could not extend file: No space left on device' USING ERRCODE = '53100'`,
} as const;

describe.skipIf(missing !== null)(`a worker whose database fails it ${missing ?? ''}`, () => {
  requireBuild();

  it('guides on while it is slow and while it is full, and keeps each feed whole once it is not', async () => {
    const ward = await startWard({
      ...{ folder: temporaryFolder(), sleeves: 2, workers: 1, database: 'postgres' },
      ...{ seconds: 75, spreadSec: 1, whenOver: onTestFinished },
    });
    const database = ward.postgres!;
    const name = new URL(ward.database).pathname.slice(1);
    const health = async () => {
      const answer = await fetch(`${ward.healthUrls()[0]}/health`);
      return (await answer.json()) as { isWell: boolean; troubles: string[]; feeds: number };
    };
    const suffer = (hardship: keyof typeof HARDSHIPS) =>
      database.sql(
        name,
        `CREATE OR REPLACE FUNCTION hardship() RETURNS trigger LANGUAGE plpgsql AS
         $$ BEGIN ${HARDSHIPS[hardship]}; RETURN NULL; END $$;
         DROP TRIGGER IF EXISTS hardship ON feed_row;
         CREATE TRIGGER hardship BEFORE INSERT ON feed_row FOR EACH STATEMENT EXECUTE FUNCTION hardship()`,
      );
    await expect.poll(async () => (await health()).feeds, PATIENT).toBe(2);
    // A worker counts a feed before its word has reached the sleeve.
    const isLit = async () => (await ward.cots.report()).every(({ beats }) => beats.at(-1)?.[1]);
    await expect.poll(isLit, PATIENT).toBe(true);
    const before = await ward.cots.report();
    const sentBytes = async () => Math.min(...(await ward.cots.report()).map((one) => one.sentBytes));
    const pastBytes = async (share: number) =>
      expect.poll(sentBytes, PATIENT).toBeGreaterThan(share * ward.bytes.length);

    suffer('slow');
    await pastBytes(0.6);
    suffer('full');
    await expect
      .poll(async () => (await health()).troubles.join(' '), PATIENT)
      .toMatch(/The database postgres:\/\/127\.0\.0\.1:\d+\/test_\d+ is full\./);
    expect(await health()).toMatchObject({ isWell: true, feeds: 2 });
    await pastBytes(0.9);
    // No sleeve lost its light since before the database failed.
    const after = await ward.cots.report();
    expect(after.map(({ beats }) => beats)).toEqual(before.map(({ beats }) => beats));
    expect(after.every(({ beats }) => beats.at(-1)?.[1])).toBe(true);
    database.sql(name, 'DROP TRIGGER hardship ON feed_row');
    await expect.poll(async () => (await health()).troubles, PATIENT).toEqual([]);

    await expect.poll(sentBytes, PATIENT).toBe(ward.bytes.length);
    const kept = () => ward.read((store) => checkedFeeds(store, ward.bytes, ward.calibration));
    await expect.poll(() => kept().every(({ to }) => to === ward.bytes.length), PATIENT).toBe(true);
    expect(kept().map(({ wrong }) => wrong)).toEqual([[], []]);
  });
});
