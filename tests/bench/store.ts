/**
 * The store: how much of the disk a 20-minute feed takes, beside gzip of its capture, and how fast lists and days are read out of five
 * years (12,000 feeds, shifted copies of a few recorded ones), beside the list without pages.
 */
import * as fs from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { readCapture } from '../../firmware-bridge/links/capture-file.ts';
import { openStore } from '../../src/store/open-store.ts';
import { backUp } from '../../src/store/portable/backup.ts';
import { exportTo } from '../../src/store/portable/export.ts';
import { forgetInFolder } from '../../src/store/portable/forget-folder.ts';
import { importInto } from '../../src/store/portable/import.ts';
import { multiplyFeeds } from '../support/many-feeds.ts';
import { recordFeed } from '../support/recorded-feed.ts';
import { type BenchFeed, simulatedFeed } from './bench-feeds.ts';
import { fixed, median, printTable } from './table.ts';

const FEEDS = 12_000;
const YEARS = 5;
const DAY_MS = 24 * 3600 * 1000;
const EVERY_MS = (YEARS * 365.25 * DAY_MS) / FEEDS;
const NEWEST_MS = Date.UTC(2026, 0, 5, 9);
const ROUNDS = 30;
const SETUP = {
  babyName: 'Wren',
  babyBirthDate: null,
  bottleName: 'blue cap',
  milkKind: 'expressed',
  portionMl: 120,
  caregiver: 'J.',
} as const;

/** Twenty minutes to the second, and two feeds of usual length. */
const recordedFeeds = (): BenchFeed[] => [
  simulatedFeed('twenty', 'paced', 3, { milkMl: 180, baby: { appetiteMl: 200 } }, 1200),
  simulatedFeed('hurried', 'hurried-start', 5),
  simulatedFeed('let-down', 'let-down', 6),
];

export function benchStore(): void {
  const folder = fs.mkdtempSync(join(tmpdir(), 'ebbline-bench-'));
  try {
    const feeds = recordedFeeds();
    benchDisk(join(folder, 'one'), feeds[0]!);
    benchFiveYears(join(folder, 'many'), feeds);
  } finally {
    fs.rmSync(folder, { recursive: true, force: true });
  }
}

function record(folder: string, feeds: readonly BenchFeed[], name = 'feed'): void {
  const store = openStore(folder, { recording: true, softwareVersion: 'bench' });
  feeds.forEach(({ bytes, calibration }, i) => {
    // Newest first, so that the copies go back in time from there.
    recordFeed(store, {
      id: `${name}-${i}`,
      bytes,
      calibration,
      startMs: NEWEST_MS - i * EVERY_MS,
      setup: SETUP,
    });
  });
  store.close();
}

function benchDisk(folder: string, feed: BenchFeed): void {
  // The second recording is measured: the first leaves free pages behind, which the next ones use again.
  record(folder, [feed], 'first');
  const emptyBytes = sizeOf(folder);
  record(folder, [feed]);
  const capture = join(folder, 'captures', 'feed-0.cap.cols');
  const zipped = gzipSync(feed.bytes).length;
  const packed = fs.statSync(capture).size;
  const rest = sizeOf(folder) - emptyBytes - packed;
  const isSame = Buffer.from(feed.bytes).equals(readCapture(capture).bytes);
  const kB = (bytes: number) => fixed(bytes / 1000, 0);
  printTable(
    `A feed of ${fixed(feed.bytes.length / 31 / 80 / 60, 1)} min on the disk (goal: 1,200 kB in all)`,
    ['', 'kB', 'of gzip'],
    [
      ['bytes of the line', kB(feed.bytes.length), fixed(feed.bytes.length / zipped)],
      ['baseline: gzip of them', kB(zipped), '1.00'],
      [
        `by column, read again: ${isSame ? 'the same bytes' : 'DIFFERENT'}`,
        kB(packed),
        fixed(packed / zipped),
      ],
      ['rows, cues, refined pass, note', kB(rest), fixed(rest / zipped)],
      ['in all', kB(packed + rest), fixed((packed + rest) / zipped)],
    ],
  );
}

function benchFiveYears(folder: string, feeds: readonly BenchFeed[]): void {
  record(folder, feeds);
  const startedMs = performance.now();
  const file = join(folder, 'feeds.sqlite');
  multiplyFeeds({
    file,
    count: FEEDS,
    everyMs: EVERY_MS,
    babyNames: ['Wren', 'Linnet'],
    bottleNames: ['blue cap', 'red cap', 'steel'],
  });
  const builtSec = (performance.now() - startedMs) / 1000;
  const store = openStore(folder);
  const middleMs = NEWEST_MS - (YEARS / 2) * 365.25 * DAY_MS;
  const whole = timed(() => store.list().length, 5);
  const rows = [
    ['list, newest 50', timed(() => store.list({ limit: 50 }).length)],
    ['list, 50 in the middle', timed(() => store.list({ limit: 50, beforeMs: middleMs }).length)],
    ['list, 50 of one baby', timed(() => store.list({ limit: 50, onlyNames: ['Linnet'] }).length)],
    ['list, 50 of one bottle', timed(() => store.list({ limit: 50, bottleName: 'steel' }).length)],
    ['a day', timed(() => feedsFrom(middleMs, 1))],
    ['a week', timed(() => feedsFrom(middleMs, 7))],
    ['one whole feed', timed(() => store.get('copy-006000')!.rows.length)],
    ['baseline: list without pages', whole],
  ] as const;
  function feedsFrom(fromMs: number, days: number): number {
    return store.between({ fromMs, toMs: fromMs + days * DAY_MS }).feeds.length;
  }
  printTable(
    `${FEEDS} feeds in ${fixed(fs.statSync(file).size / 1e9)} GB, built in ${fixed(builtSec, 0)} s (goal: list and day under 50 ms)`,
    ['', 'found', 'median ms', 'slowest ms', 'of baseline'],
    rows.map(([what, { found, ms }]) => [
      what,
      found,
      fixed(median(ms)),
      fixed(Math.max(...ms)),
      fixed(median(ms) / median(whole.ms), 3),
    ]),
  );
  store.close();
  benchHousekeeping(folder, middleMs);
}

/** Measures what is done now and then: a backup and forgetting a baby write the whole file again. */
function benchHousekeeping(folder: string, fromMs: number): void {
  const out = (name: string) => join(folder, '..', name);
  const about = { nowMs: NEWEST_MS, softwareVersion: 'bench' };
  const database = join(folder, 'feeds.sqlite');
  const copied = once(() => fs.copyFileSync(database, out('copy.sqlite')));
  fs.rmSync(out('copy.sqlite'));
  const store = openStore(folder);
  const choice = { fromMs, toMs: fromMs + 30 * DAY_MS };
  const exported = once(() => exportTo(store, out('export'), { ...about, ...choice }));
  store.close();
  const imported = once(() => importInto(out('imported'), out('export'), NEWEST_MS));
  const backedUp = once(() => backUp(folder, out('all.tar'), about));
  fs.rmSync(out('all.tar'));
  const forgotten = once(() => forgetInFolder(folder, 'Linnet'));
  const rows: [string, string, number][] = [
    ['baseline: plain copy of the database', '', copied.sec],
    [`export of 30 days`, `${exported.result.feeds} feeds`, exported.sec],
    ['import of them', `${imported.result.feeds} feeds`, imported.sec],
    ['backup of five years', `${(backedUp.result.bytes / 1e9).toFixed(2)} GB`, backedUp.sec],
    ['one of two babies forgotten', `${forgotten.result.feeds} feeds`, forgotten.sec],
  ];
  printTable(
    'Housekeeping on the same store (captures of the copies are not there)',
    ['', 'of', 'seconds', 'of baseline'],
    rows.map(([what, of, sec]) => [what, of, fixed(sec, 1), fixed(sec / copied.sec, 1)]),
  );
}

function once<T>(action: () => T): { result: T; sec: number } {
  const startedMs = performance.now();
  const result = action();
  return { result, sec: (performance.now() - startedMs) / 1000 };
}

function timed(action: () => number, rounds = ROUNDS): { found: number; ms: number[] } {
  let found = 0;
  const ms = Array.from({ length: rounds }, () => {
    const startedMs = performance.now();
    found = action();
    return performance.now() - startedMs;
  });
  return { found, ms };
}

const sizeOf = (folder: string): number =>
  fs
    .readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .map((name) => fs.statSync(join(folder, name)))
    .reduce((sum, stat) => sum + (stat.isFile() ? stat.size : 0), 0);
