/** How long guidance stands still while pictures, papers and a whole export are made: by the helper, and, as the baseline, in the same loop. */
import * as fs from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createSimulatedLink } from '../../firmware-bridge/links/simulated-link.ts';
import { createAside } from '../../src/app/aside/aside.ts';
import { asideJobs } from '../../src/app/aside/aside-jobs.ts';
import { createLiveFeed } from '../../src/feed/live/live.ts';
import { DATABASE_FILE } from '../../src/store/data-folder.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { openStore } from '../../src/store/open-store.ts';
import { exportLines } from '../../src/store/portable/export.ts';
import { readFixture } from '../support/captures.ts';
import { GRAPH_LOOK, PROGRAM_FROM_SOURCE } from '../support/from-source.ts';
import { multiplyFeeds } from '../support/many-feeds.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { createScriptedSleeve } from '../support/scripted-sleeve.ts';
import { fixed, printTable, quantile } from './table.ts';

const FEEDS = 300;
/** The delay of a timer of this length shows how long the loop stood still. */
const LOOK_EVERY_MS = 5;

interface Stall {
  p50Ms: number;
  p999Ms: number;
  worstMs: number;
  /** Longest time between two heartbeats to the sleeve. */
  heartbeatMs: number;
}

/** A feed that runs in this loop, with what `work` does beside it. */
async function whileItRuns(store: FeedStore, work: () => Promise<void>): Promise<Stall> {
  const sleeve = createScriptedSleeve();
  const link = createSimulatedLink(sleeve);
  let lastMs = performance.now();
  let heartbeatMs = 0;
  let feeds = 0;
  const live = createLiveFeed({
    link,
    calibration: sleeve.calibration,
    storage: store,
    outputs: {
      setLight: () => {},
      sound: () => {},
      heartbeat() {
        heartbeatMs = Math.max(heartbeatMs, performance.now() - lastMs);
        lastMs = performance.now();
      },
    },
    newFeedId: () => `stall-${process.hrtime.bigint()}-${++feeds}`,
    wallNowMs: Date.now,
    simulated: false,
    sleeveId: 'bench-1',
    refinesLater: true,
  });
  await link.open();
  await new Promise((resolve) => setTimeout(resolve, 4000));
  sleeve.mouth = 'sucking';
  await new Promise((resolve) => setTimeout(resolve, 4000));
  const latenessMs: number[] = [];
  let askedMs = performance.now();
  const looking = setInterval(() => {
    const nowMs = performance.now();
    latenessMs.push(Math.max(0, nowMs - askedMs - LOOK_EVERY_MS));
    askedMs = nowMs;
  }, LOOK_EVERY_MS);
  heartbeatMs = 0;
  await work();
  await new Promise((resolve) => setTimeout(resolve, 1000));
  clearInterval(looking);
  live.stop();
  await link.close();
  return {
    p50Ms: quantile(latenessMs, 0.5),
    p999Ms: quantile(latenessMs, 0.999),
    worstMs: Math.max(...latenessMs),
    heartbeatMs,
  };
}

/** A feed of 90 s with cues, many times over. */
function fill(folder: string, count: number): void {
  const { bytes, calibration } = readFixture('poured');
  const store = openStore(folder, { recording: true });
  recordFeed(store, { id: 'poured', bytes, calibration, startMs: Date.UTC(2026, 0, 5, 9) });
  store.close();
  const file = join(folder, DATABASE_FILE);
  multiplyFeeds({ file, count, everyMs: 3 * 3600_000, babyNames: ['Wren'], bottleNames: ['blue cap'] });
}

export async function benchStall(flags: ReadonlySet<string>): Promise<void> {
  const folder = fs.mkdtempSync(join(tmpdir(), 'ebbline-stall-'));
  const count = flags.has('quick') ? FEEDS / 10 : FEEDS;
  fill(folder, count);
  const store = openStore(folder, { recording: true, packsLater: true });
  const ids = store.list({ limit: 20 }).map(({ id }) => id);
  const aside = createAside({ folder, program: PROGRAM_FROM_SOURCE });
  const jobs = asideJobs(store);
  const nothing = await whileItRuns(store, () => new Promise((resolve) => setTimeout(resolve, 8000)));
  const beside = await whileItRuns(store, async () => {
    const out = aside.exportBytes();
    const exported = (async () => {
      for await (const _part of out);
    })();
    const pictures = ids.map((id) => aside.run('graphPng', id, GRAPH_LOOK));
    const papers = ids.slice(0, 3).map((id) => aside.run('file', id, 'pdf', {}));
    await Promise.all([exported, ...pictures, ...papers]);
  });
  const within = await whileItRuns(store, async () => {
    for (const _line of exportLines(store, { nowMs: Date.now(), softwareVersion: 'bench' }));
    for (const id of ids) jobs.graphPng(id, GRAPH_LOOK);
    for (const id of ids.slice(0, 3)) await jobs.file(id, 'pdf', {});
  });
  aside.close();
  store.close();
  fs.rmSync(folder, { recursive: true, force: true });
  const row = (name: string, { p50Ms, p999Ms, worstMs, heartbeatMs }: Stall) => [
    name,
    fixed(p50Ms, 1),
    fixed(p999Ms, 1),
    fixed(worstMs, 1),
    fixed(heartbeatMs, 0),
  ];
  printTable(
    `Guidance stands still, ms, while ${count} feeds are exported and 20 pictures and 3 papers are made`,
    ['', 'p50', 'p99.9', 'worst', 'between heartbeats'],
    [
      row('nothing beside', nothing),
      row('by the helper', beside),
      row('in the same loop (baseline)', within),
    ],
    [
      'Limit: p99.9 under 100 ms by the helper. The sleeve waits 2 s for a heartbeat; one goes out each 0.5 s.',
    ],
  );
}
