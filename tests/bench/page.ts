/** How soon the page is there on loopback: a fresh browser profile each time, beside a bare page with one word on it. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { createServer } from '../../src/server/server.ts';
import {
  builtPage,
  firstPageBytes,
  hasBrowser,
  launchBrowser,
  noBrowserReason,
  PHONE,
} from '../support/browser.ts';
import { FakeLive, viewOf } from '../support/fake-live.ts';
import { feedReader, plainGraph } from '../support/kept-feeds.ts';
import { type Cell, fixed, printTable, spread } from './table.ts';

const RUNS = 7;
/** A slow phone, roughly: the browser's own throttle of the processor. */
const SLOWDOWNS = [1, 4];
const BARE = 'bare.html';

interface Paint {
  firstPaintMs: number;
  /** Until the state of the feed is said. */
  saidMs: number;
}

export async function benchPage(): Promise<void> {
  if (!hasBrowser) return console.log(`\nNothing was measured${noBrowserReason}.`);
  const page = builtPage();
  writeFileSync(join(page.folder, BARE), '<!doctype html><title>bare</title><p class="glance">One word</p>');
  const live = new FakeLive(viewOf({ showing: 'tilt-down' }));
  const beat = setInterval(() => live.repeat(), 250);
  const server = await createServer({
    live,
    feeds: feedReader(),
    graph: plainGraph,
    webFolder: page.folder,
    port: 0,
  });
  const browser = await launchBrowser();
  const rows: Cell[][] = [];
  for (const slowdown of SLOWDOWNS) {
    for (const [name, path] of [
      ['bare page', BARE],
      ['live page', ''],
    ] as const) {
      const paints: Paint[] = [];
      for (let run = 0; run <= RUNS; run++) {
        const paint = await paintOnce(browser, `${server.url}${path}`, slowdown);
        // The first run warms the machine up.
        if (run > 0) paints.push(paint);
      }
      rows.push([
        name,
        slowdown,
        spread(
          paints.map(({ firstPaintMs }) => firstPaintMs),
          0,
        ),
        spread(
          paints.map(({ saidMs }) => saidMs),
          0,
        ),
      ]);
    }
  }
  printTable(
    'First paint on loopback, ms after the address was asked for; median (range)',
    ['page', 'processor slower by', 'first paint', 'state said'],
    rows,
    [
      `${RUNS} runs each. Goal: first paint under 1000 ms. First page ${fixed(firstPageBytes(page.folder) / 1000, 1)} kB gzipped; goal under 60.`,
    ],
  );
  clearInterval(beat);
  await browser.close();
  await server.close();
  page.remove();
}

/** Given to the page as text: the bench's compiler would add its own helpers to a function. */
const NOTE_WHEN_SAID = `
  (function look() {
    const words = document.querySelector('.glance')?.textContent ?? '';
    if (words !== '' && words !== 'One moment') globalThis.saidMs = performance.now();
    else requestAnimationFrame(look);
  })();`;
const READ_PAINT = `(() => {
  const first = performance.getEntriesByName('first-contentful-paint')[0];
  return first && globalThis.saidMs ? { firstPaintMs: first.startTime, saidMs: globalThis.saidMs } : null;
})()`;

async function paintOnce(browser: Browser, address: string, slowdown: number): Promise<Paint> {
  const context = await browser.newContext({ viewport: PHONE });
  const tab = await context.newPage();
  const session = await context.newCDPSession(tab);
  await session.send('Emulation.setCPUThrottlingRate', { rate: slowdown });
  await tab.addInitScript(NOTE_WHEN_SAID);
  await tab.goto(address);
  let paint: Paint | null = null;
  while (paint === null) {
    await tab.waitForTimeout(20);
    paint = await tab.evaluate<Paint | null>(READ_PAINT);
  }
  await context.close();
  return paint;
}
