/** Captures lie by month, go by a rule, and a month goes as a whole once no site keeps anything in it. */
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { archiveCaptures } from '../../src/store/portable/archive.ts';
import { captureMonths, dropEmptyMonths } from '../../src/store/postgres/months.ts';
import { holdSite } from '../../src/store/postgres/postgres-store.ts';
import { noPostgres, sharedPostgres } from '../support/postgres.ts';
import { freshPlace, recordingAt } from '../support/postgres-store.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { temporaryFolder } from '../support/temporary-folder.ts';

const NOW_MS = Date.UTC(2026, 3, 20);
const DAY_MS = 86_400_000;

describe.skipIf(noPostgres !== null)('months of captures', () => {
  it('go once no site needs them, and never before', async () => {
    const server = await sharedPostgres();
    const place = freshPlace(server);
    for (const site of ['north', 'south']) {
      const store = recordingAt({ ...place, site }, { nowMs: () => NOW_MS });
      for (const [id, daysAgo] of [
        ['old', 80],
        ['older', 81],
        ['new', 1],
      ] as const) {
        const startedAtMs = NOW_MS - daysAgo * DAY_MS;
        store.begin(begunFeed(id, { startedAtMs, sampleZeroAtMs: startedAtMs }), {});
        store.append(id, partOfSecond(0));
        store.finish(id, { endReason: 'button', endedAtMs: startedAtMs + 1000, refined: null });
      }
      store.close();
    }
    const [north, south] = ['north', 'south'].map((site) => holdSite({ ...place, site }));
    const rule = { olderThanDays: 30, to: null };
    expect(captureMonths(north!.database)).toEqual(['capture_2026_01', 'capture_2026_04']);
    expect(dropEmptyMonths(north!.database, NOW_MS)).toEqual([]);
    expect(archiveCaptures(north!, rule, NOW_MS)).toMatchObject({ captures: 2 });
    // The other site, which this one cannot see, still has captures in that month.
    expect(dropEmptyMonths(north!.database, NOW_MS)).toEqual([]);
    expect(server.sql(place.name, 'SELECT DISTINCT site FROM capture_2026_01')).toEqual(['south']);
    const away = temporaryFolder();
    // What another connection began to read before may still see the deleted rows: the month stays for another time.
    north!.database.exec('BEGIN ISOLATION LEVEL REPEATABLE READ');
    north!.database.prepare('SELECT 1 FROM feed').all();
    expect(archiveCaptures(south!, { ...rule, to: away }, NOW_MS)).toMatchObject({ captures: 2 });
    expect(dropEmptyMonths(south!.database, NOW_MS)).toEqual([]);
    north!.database.exec('COMMIT');
    expect(dropEmptyMonths(south!.database, NOW_MS)).toEqual(['capture_2026_01']);
    expect(captureMonths(south!.database)).toEqual(['capture_2026_04']);
    for (const held of [north!, south!]) held.close();
    const store = recordingAt({ ...place, site: 'south' }, { nowMs: () => NOW_MS });
    expect(store.get('old')!.rows).toHaveLength(2);
    expect(store.capturePath('old')).toBe(join(away, 'old.cap.cols'));
    expect(store.capturePath('new')).not.toBeNull();
    // A month that was dropped is created again if a feed of that time comes.
    store.begin(begunFeed('late', { startedAtMs: NOW_MS - 80 * DAY_MS }), {});
    expect(captureMonths(holdSite({ ...place, site: 'south' }).database)).toContain('capture_2026_01');
  });
});
