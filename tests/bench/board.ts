/** The board with sixty cots on a tablet: first paint, frames a second while everything changes, and what one view costs. Beside a bare page and beside a board that stands still. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { BehaviorSubject } from 'rxjs';
import { createBoardServer } from '../../src/server/ward/board-server.ts';
import { boardCots } from '../../src/ward/board/board-view.ts';
import { demoRoom } from '../../src/ward/board/demo-room.ts';
import { boardView } from '../support/board-cots.ts';
import { builtPage, firstBytes, hasBrowser, launchBrowser, noBrowserReason } from '../support/browser.ts';
import { type Cell, fixed, printTable, spread } from './table.ts';

const COTS = 60;
const RUNS = 7;
const SLOWDOWNS = [1, 4];
const TABLET = { width: 1024, height: 768 } as const;
const BARE = 'bare.html';
/** The board looks four times a second. */
const VIEW_MS = 250;
/** Script time between two views: every cot changes every few seconds, which no room does. */
const HURRY_SEC = 10;
const WATCH_MS = 10_000;

const room = demoRoom(1, COTS);
const viewAt = (atSec: number) =>
  boardView(
    boardCots(
      room(atSec).map((state) => ({ state, atMs: 0, firstAtMs: 0 })),
      (sleeve) => String(sleeve),
      0,
    ),
  );

export async function benchBoard(): Promise<void> {
  if (!hasBrowser) return console.log(`\nNothing was measured${noBrowserReason}.`);
  const page = builtPage();
  writeFileSync(join(page.folder, BARE), '<!doctype html><title>bare</title><p class="cot">One word</p>');
  const view$ = new BehaviorSubject(viewAt(0));
  let turn = 0;
  let isHurried = false;
  const beat = setInterval(() => {
    if (isHurried) turn += 1;
    view$.next(isHurried ? viewAt(turn * HURRY_SEC) : view$.value);
  }, VIEW_MS);
  const server = await createBoardServer({ view$, webFolder: page.folder, port: 0 });
  const browser = await launchBrowser();
  const paints: Cell[][] = [];
  for (const slowdown of SLOWDOWNS)
    for (const [name, path] of [
      ['bare page', BARE],
      [`board, ${COTS} cots`, ''],
    ] as const)
      paints.push([name, slowdown, ...(await paintRow(browser, `${server.url}${path}`, slowdown))]);
  const bytes = firstBytes(page.folder, ['board.html', 'mark.svg', 'parts/board.css', 'board.js']);
  printTable(
    'First paint on loopback, ms after the address was asked for; median (range)',
    ['page', 'processor slower by', 'first paint', 'cots there'],
    paints,
    [`${RUNS} runs each. Goal: first paint under 1000 ms. ${fixed(bytes / 1000, 1)} kB gzipped.`],
  );
  const frames: Cell[][] = [];
  for (const slowdown of SLOWDOWNS)
    for (const hurried of [false, true]) {
      isHurried = hurried;
      const seen = await frameTimes(browser, server.url, slowdown);
      frames.push([hurried ? 'all cots change' : 'stands still', slowdown, ...frameCells(seen)]);
    }
  printTable(
    `Frames in ${WATCH_MS / 1000} s with ${COTS} cots, a view every ${VIEW_MS} ms`,
    ['board', 'processor slower by', 'frames/s', 'median ms', 'p99 ms', 'longest ms', 'over 33 ms'],
    frames,
    [
      'Goal: 60 frames a second. A headless browser without a graphics card; "all cots change" moves the script on 10 s with each view.',
    ],
  );
  clearInterval(beat);
  await browser.close();
  await server.close();
  page.remove();
}

const NOTE_WHEN_THERE = `
  (function look() {
    if (document.querySelector('.cot')) globalThis.thereMs = performance.now();
    else requestAnimationFrame(look);
  })();`;
const READ_PAINT = `(() => {
  const first = performance.getEntriesByName('first-contentful-paint')[0];
  return first && globalThis.thereMs ? [first.startTime, globalThis.thereMs] : null;
})()`;

async function paintRow(browser: Browser, address: string, slowdown: number): Promise<Cell[]> {
  const paints: [number, number][] = [];
  // The first run warms the machine up.
  for (let run = 0; run <= RUNS; run++) {
    const paint = await paintOnce(browser, address, slowdown);
    if (run > 0) paints.push(paint);
  }
  return [0, 1].map((which) =>
    spread(
      paints.map((paint) => paint[which]!),
      0,
    ),
  );
}

async function tabletTab(browser: Browser, slowdown: number) {
  const context = await browser.newContext({ viewport: TABLET });
  const tab = await context.newPage();
  const session = await context.newCDPSession(tab);
  await session.send('Emulation.setCPUThrottlingRate', { rate: slowdown });
  return { context, tab };
}

async function paintOnce(browser: Browser, address: string, slowdown: number): Promise<[number, number]> {
  const { context, tab } = await tabletTab(browser, slowdown);
  await tab.addInitScript(NOTE_WHEN_THERE);
  await tab.goto(address);
  let paint: [number, number] | null = null;
  while (paint === null) {
    await tab.waitForTimeout(20);
    paint = await tab.evaluate<[number, number] | null>(READ_PAINT);
  }
  await context.close();
  return paint;
}

const WATCH_FRAMES = `new Promise((done) => {
  const times = [];
  let last = performance.now();
  const end = last + ${WATCH_MS};
  (function frame(now) {
    if (now > last) times.push(now - last);
    last = now;
    if (now < end) requestAnimationFrame(frame);
    else done(times);
  })(last);
})`;

async function frameTimes(browser: Browser, address: string, slowdown: number): Promise<number[]> {
  const { context, tab } = await tabletTab(browser, slowdown);
  await tab.goto(address);
  await tab.waitForSelector('.cot');
  const times = await tab.evaluate<number[]>(WATCH_FRAMES);
  await context.close();
  return times.sort((one, other) => one - other);
}

function frameCells(times: readonly number[]): Cell[] {
  const at = (share: number): number => times[Math.min(times.length - 1, Math.floor(share * times.length))]!;
  const sumMs = times.reduce((sum, ms) => sum + ms, 0);
  return [
    fixed((1000 * times.length) / sumMs, 1),
    fixed(at(0.5), 1),
    fixed(at(0.99), 1),
    fixed(at(1), 1),
    times.filter((ms) => ms > 33.4).length,
  ];
}
