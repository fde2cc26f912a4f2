/**
 * What happened, as the page asks for it: each answer of the server for a feed of twenty minutes and for days out of five years (12,000
 * feeds), beside an answer that looks nothing up. Goals: a graph under 150 ms, a PDF under 1 s, list and day under 50 ms.
 */
import * as fs from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { reviewService } from '../../src/app/review/review-service.ts';
import { feedGraphPng, feedGraphSvg } from '../../src/review/index.ts';
import { buildApp } from '../../src/server/app.ts';
import { openStore } from '../../src/store/open-store.ts';
import { FakeLive } from '../support/fake-live.ts';
import { multiplyFeeds } from '../support/many-feeds.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { simulatedFeed } from './bench-feeds.ts';
import { fixed, median, printTable } from './table.ts';

const FEEDS = 12_000;
const YEARS = 5;
const EVERY_MS = (YEARS * 365.25 * 24 * 3_600_000) / FEEDS;
const NEWEST_MS = Date.UTC(2026, 0, 5, 9);
const ZONE = 'America/New_York';
const ROUNDS = 15;
const WARM_UP = 3;
const PORT = 4620;
const SETUP = {
  babyName: 'Wren',
  babyBirthDate: '2025-11-02',
  bottleName: 'blue cap',
  milkKind: 'expressed',
  portionMl: 120,
  caregiver: 'J.',
} as const;

export async function benchReview(flags: ReadonlySet<string>): Promise<void> {
  const folder = fs.mkdtempSync(join(tmpdir(), 'ebbline-bench-'));
  try {
    const feed = simulatedFeed('twenty', 'paced', 3, { milkMl: 180, baby: { appetiteMl: 200 } }, 1200);
    const other = simulatedFeed('hurried', 'hurried-start', 5);
    const store = openStore(folder, { recording: true, softwareVersion: 'bench' });
    for (const [id, { bytes, calibration }, startMs] of [
      ['feed-0', feed, NEWEST_MS],
      ['feed-1', other, NEWEST_MS - EVERY_MS],
    ] as const)
      recordFeed(store, { id, bytes, calibration, startMs, setup: SETUP });
    const minutes = store.get('feed-0')!.durationSec / 60;
    store.close();
    const count = flags.has('quick') ? 200 : FEEDS;
    multiplyFeeds({
      file: join(folder, 'feeds.sqlite'),
      count,
      everyMs: EVERY_MS,
      babyNames: ['Wren'],
      bottleNames: ['blue cap', 'steel'],
    });
    await benchAnswers(folder, count, minutes);
  } finally {
    fs.rmSync(folder, { recursive: true, force: true });
  }
}

async function benchAnswers(folder: string, count: number, minutes: number): Promise<void> {
  const web = join(folder, 'web');
  fs.mkdirSync(web);
  fs.writeFileSync(join(web, 'index.html'), '<!doctype html>');
  const store = openStore(folder);
  const app = buildApp(
    {
      live: new FakeLive(),
      feeds: store,
      graph: feedGraphSvg,
      png: feedGraphPng,
      review: reviewService(store, { nowMs: () => NEWEST_MS + 3_600_000, zone: ZONE }),
      webFolder: web,
    },
    () => PORT,
  );
  const days = '2025-12-20';
  const asked: [what: string, url: string, goal: string][] = [
    ['baseline: the page itself, nothing looked up', '/', '–'],
    ['graph for a phone, SVG', '/feeds/feed-0/graph.svg?width=328&place=page', '150'],
    ['graph for a report, SVG', '/feeds/feed-0/graph.svg?width=960', '150'],
    ['numbers under the graph', '/feeds/feed-0/values', '150'],
    ['the feed told', '/feeds/feed-0/told', '150'],
    ['two feeds over each other', '/compare.svg?first=feed-0&second=feed-1', '150'],
    ['graph, PNG', '/feeds/feed-0/graph.png?width=960', '–'],
    ['PDF, one page', '/feeds/feed-0/file.pdf', '1000'],
    ['page to hand on', '/feeds/feed-0/file.html', '1000'],
    ['list, first page', '/found', '50'],
    ['list, a bottle up to a day', `/found?bottle=steel&until=${days}`, '50'],
    ['a day', `/day?day=${days}`, '50'],
    ['seven days and the seven before', `/week?day=${days}`, '50'],
  ];
  const rows: (string | number)[][] = [];
  for (const [what, url, goal] of asked) {
    const ms: number[] = [];
    const cpuMs: number[] = [];
    let bytes = 0;
    for (let round = 0; round < WARM_UP + ROUNDS; round++) {
      const startedMs = performance.now();
      const startedCpu = process.cpuUsage();
      const answer = await app.inject({ url, headers: { host: `127.0.0.1:${PORT}` } });
      const cpu = process.cpuUsage(startedCpu);
      if (round >= WARM_UP) {
        ms.push(performance.now() - startedMs);
        cpuMs.push((cpu.user + cpu.system) / 1000);
      }
      if (answer.statusCode !== 200)
        throw new Error(`${url}: ${answer.statusCode} ${answer.body.slice(0, 200)}`);
      bytes = answer.rawPayload.length;
    }
    rows.push([
      what,
      fixed(bytes / 1000, 1),
      fixed(median(ms), 1),
      fixed(Math.max(...ms), 1),
      fixed(median(cpuMs), 1),
      goal,
    ]);
  }
  printTable(
    `Answers of the server: a feed of ${fixed(minutes, 1)} min among ${count} of five years`,
    ['', 'kB', 'median ms', 'slowest ms', 'of the processor', 'goal ms'],
    rows,
    ['Of the processor: the median time that it worked on an answer, which other programs do not lengthen.'],
  );
  await app.close();
  store.close();
}
