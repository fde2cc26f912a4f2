/**
 * How long sleeves in a feed are without a guide when their worker is killed: two workers, a real broker and a real PostgreSQL, one worker killed five times.
 * Times at the sleeve, from the kill: when it goes dark, and when it is guided again. `--quick`: fewer sleeves.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { noBroker } from '../support/broker.ts';
import { noPostgres } from '../support/postgres.ts';
import type { CotReport } from '../support/ward/cots.ts';
import { startWard } from '../support/ward/ward.ts';
import { fixed, median, printTable, quantile } from './table.ts';

const KILLS = 5;
/** By then all sleeves are in their feeds. */
const BEFORE_SEC = 35;
/** From a kill until the killed worker is started again, and until the next kill. */
const AWAY_MS = 8000;
const BACK_MS = 4000;

export async function benchTakeovers(flags: ReadonlySet<string>): Promise<void> {
  const missing = noBroker ?? noPostgres;
  if (missing !== null) return console.log(`\nNo workers: ${missing}.`);
  const rows = [];
  for (const sleeves of flags.has('quick') ? [5] : [10, 100]) rows.push(await measured(sleeves));
  printTable(
    'A worker is killed: seconds from then, at the sleeves that lost their guide',
    ['sleeves', 'lost their guide', 'dark, median', 'latest', 'guided again, median', 'latest', 'not in 8 s'],
    rows,
  );
}

async function measured(sleeves: number): Promise<(string | number)[]> {
  const folder = mkdtempSync(join(tmpdir(), 'ebbline-takeovers-'));
  const ends: (() => Promise<void>)[] = [];
  const [dark, again]: [number[], number[]] = [[], []];
  try {
    const seconds = BEFORE_SEC + 10 + (KILLS * (AWAY_MS + BACK_MS)) / 1000;
    const ward = await startWard({
      ...{ folder, sleeves, workers: 2, database: 'postgres', seconds, spreadSec: 10 },
      whenOver: (end) => ends.push(end),
    });
    await pause(BEFORE_SEC * 1000);
    for (let kill = 0; kill < KILLS; kill++) {
      const worker = ward.workers[kill % 2]!;
      const atMs = Date.now();
      await worker.kill();
      await pause(AWAY_MS);
      for (const report of await ward.cots.report()) {
        const gap = gapAfter(report, atMs);
        if (!gap) continue;
        dark.push((gap.offMs - atMs) / 1000);
        again.push(gap.onMs === null ? Number.POSITIVE_INFINITY : (gap.onMs - atMs) / 1000);
      }
      await worker.start();
      await pause(BACK_MS);
    }
  } finally {
    for (const end of ends.reverse()) await end();
    rmSync(folder, { recursive: true, force: true });
  }
  const late = again.filter((sec) => !Number.isFinite(sec)).length;
  const came = again.filter(Number.isFinite);
  const of = (values: number[]) => [fixed(median(values), 1), fixed(quantile(values, 1), 1)];
  return [sleeves, dark.length, ...of(dark), ...of(came), late];
}

/** The first time without guidance after a moment; null if there is none. Null in it: it has not ended. */
function gapAfter({ beats }: CotReport, atMs: number): { offMs: number; onMs: number | null } | null {
  const off = beats.findIndex(([ms, on]) => ms >= atMs && !on);
  return off < 0 ? null : { offMs: beats[off]![0], onMs: beats[off + 1]?.[0] ?? null };
}
