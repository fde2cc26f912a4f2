/**
 * Draws the picture of the README: the page in a feed that runs too fast, beside the graph of such a feed.
 *
 *   npx tsx tests/manual/readme-picture.ts
 */
import { fileURLToPath } from 'node:url';
import { feedGraphPng, feedGraphSvg } from '../../src/review/index.ts';
import { createServer } from '../../src/server/server.ts';
import { builtPage, launchBrowser, PHONE } from '../support/browser.ts';
import { FakeLive, viewOf } from '../support/fake-live.ts';
import { fastFeed } from '../support/graph-feeds.ts';
import { feedReader } from '../support/kept-feeds.ts';
import { reviewOf } from '../support/review-service.ts';

const OUT = fileURLToPath(new URL('../../pictures/feed.png', import.meta.url));
const feed = fastFeed();
const live = new FakeLive();
const server = await createServer({
  live,
  feeds: feedReader([feed]),
  review: reviewOf([feed], Date.UTC(2026, 10, 25, 12)),
  graph: feedGraphSvg,
  webFolder: builtPage().folder,
  port: 0,
});
const browser = await launchBrowser();
const beat = setInterval(() => live.repeat(), 300);
try {
  const tab = await browser.newPage({ viewport: PHONE, deviceScaleFactor: 2 });
  live.show(viewOf({ showing: 'tilt-down', feedState: 'open', feedElapsedSec: 72 }));
  await tab.goto(server.url);
  await tab.waitForTimeout(2000);
  const phone = (await tab.screenshot()).toString('base64');
  const graph = Buffer.from(feedGraphPng(feed)).toString('base64');
  const sheet = await browser.newPage({ viewport: { width: 1000, height: 700 }, deviceScaleFactor: 1.5 });
  await sheet.setContent(
    `<body style="margin:0;display:flex;gap:24px;align-items:center;background:#fff">
      <img style="height:680px;border:1px solid #bbb;border-radius:16px;margin:9px" src="data:image/png;base64,${phone}">
      <img style="height:690px" src="data:image/png;base64,${graph}"></body>`,
  );
  await sheet.waitForTimeout(500);
  await sheet.screenshot({ path: OUT });
} finally {
  clearInterval(beat);
  await browser.close();
  await server.close();
}
