/** Time to store a second of a feed, in a data folder and in a PostgreSQL that waits for its disk, with more and more feeds at once. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { move } from '../../src/store/move/move.ts';
import { openStore } from '../../src/store/open-store.ts';
import { openStoreAt } from '../../src/store/postgres/postgres-store.ts';
import { fullFolder } from '../support/full-store.ts';
import { createPostgres, noPostgres } from '../support/postgres.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { type Cell, fixed, printTable, quantile } from './table.ts';

/** 80 samples a second of 31 bytes. */
const BYTES_PER_SEC = 80 * 31;
const FEEDS = [1, 20, 100];

/** @returns ms of each second of each feed, one after another as one process keeps them */
function timesOf(store: FeedStore, feeds: number, seconds: number): number[] {
  const ids = Array.from({ length: feeds }, (_, i) => `f${feeds}-${i}`);
  for (const id of ids) store.begin(begunFeed(id), {});
  const times: number[] = [];
  for (let second = 0; second < seconds; second++)
    for (const id of ids) {
      const part = partOfSecond(second, BYTES_PER_SEC);
      const beganMs = performance.now();
      store.append(id, part);
      times.push(performance.now() - beganMs);
    }
  for (const id of ids)
    store.finish(id, { endReason: 'button', endedAtMs: begunFeed(id).startedAtMs, refined: null });
  return times.sort((a, b) => a - b);
}

export async function benchDatabase(flags: ReadonlySet<string>): Promise<void> {
  if (noPostgres !== null) return console.log(`\nNo database: ${noPostgres}.`);
  const seconds = flags.has('quick') ? 5 : 20;
  const base = mkdtempSync(join(tmpdir(), 'ebbline-database-'));
  const server = await createPostgres({ folder: join(base), waitsForDisk: true });
  try {
    await server.start();
    const place = { database: server.freshDatabase().url, databasePasswordFile: server.passwordFile };
    const rows: Cell[][] = [];
    for (const [name, open] of [
      ['data folder', () => openStore(join(base, 'folder'), { recording: true, packsLater: true })],
      ['PostgreSQL', () => openStoreAt(place, { recording: true, packsLater: true })],
    ] as const) {
      const store = open();
      for (const feeds of FEEDS) {
        const times = timesOf(store, feeds, seconds);
        const [median, p99] = [quantile(times, 0.5), quantile(times, 0.99)];
        const sum = times.reduce((total, ms) => total + ms, 0);
        rows.push([name, feeds, fixed(median, 2), fixed(p99, 2), fixed(sum / seconds / 10, 1)]);
      }
      store.close();
    }
    printTable(
      'Keeping a second of a feed',
      ['kept in', 'feeds', 'a second of one, ms', 'p99, ms', 'of one process, %'],
      rows,
    );
    const family = fullFolder(join(base, 'family'));
    const beganMs = performance.now();
    const { feeds, files } = move(family, { ...place, site: 'moved' });
    console.log(
      `  a move of ${feeds} feeds with ${files} files: ${fixed(performance.now() - beganMs, 0)} ms`,
    );
  } finally {
    await server.kill();
    rmSync(base, { recursive: true, force: true });
  }
}
