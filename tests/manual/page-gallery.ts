/**
 * Photographs every page and state at phone size, for looking at: by day, by night, in dark mode, in simulated
 * color-vision deficiencies, and as small gray thumbnails. Contact sheets go to the folder named.
 *
 *   npx tsx tests/manual/page-gallery.ts FOLDER
 */
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { practicePair } from '../../src/app/practice/practice-pair.ts';
import type { LiveView } from '../../src/feed/live/live-view.ts';
import { feedGraphSvg } from '../../src/review/index.ts';
import { createServer } from '../../src/server/server.ts';
import { ShareDoor } from '../../src/server/share-door.ts';
import { builtPage, launchBrowser, PHONE } from '../support/browser.ts';
import { FakeLive, viewOf } from '../support/fake-live.ts';
import { feedReader, keptFeed } from '../support/kept-feeds.ts';
import { PAGE_STATES, SHOWINGS } from '../support/page-states.ts';
import { reviewOf } from '../support/review-service.ts';

type Shot = { name: string; png: Buffer };
const folder = resolve(process.argv[2] ?? 'page-gallery.tmp');
mkdirSync(folder, { recursive: true });

const page = builtPage();
const live = new FakeLive();
const kept = [
  keptFeed(),
  keptFeed({
    id: 'feed-2',
    simulated: false,
    intakeMl: 82.4,
    durationSec: 1140,
    startedAtMs: Date.UTC(2026, 10, 24, 9, 31),
  }),
  keptFeed({
    id: 'feed-3',
    simulated: false,
    intakeMl: 5.2,
    durationSec: 45,
    startedAtMs: Date.UTC(2026, 10, 23, 22, 4),
  }),
];
const door = new ShareDoor({ network: { address: '127.0.0.2', netmask: '255.0.0.0' } });
const server = await createServer({
  live,
  door,
  practice: practicePair,
  feeds: feedReader(kept),
  review: reviewOf(kept, Date.UTC(2026, 10, 25, 12)),
  graph: feedGraphSvg,
  webFolder: page.folder,
  port: 0,
});
const invitation = door.invite();
const browser = await launchBrowser();
const beat = setInterval(() => live.repeat(), 300);

async function sheet(name: string, shots: Shot[], scale = 0.75, filter = 'none'): Promise<void> {
  const tab = await browser.newPage();
  const figures = shots.map(
    ({ name: label, png }) =>
      `<figure style="margin:0"><img src="data:image/png;base64,${png.toString('base64')}" style="width:${PHONE.width * scale}px;filter:${filter}"><figcaption>${label}</figcaption></figure>`,
  );
  await tab.setContent(
    `<body style="margin:8px;font:12px sans-serif;background:#888"><div id="all" style="display:inline-flex;flex-wrap:wrap;gap:8px;max-width:${(PHONE.width * scale + 8) * 5}px">${figures.join('')}</div>`,
  );
  await tab.locator('#all').screenshot({ path: join(folder, `${name}.png`) });
  await tab.close();
}

const shoot = async (tab: Page, name: string, fullPage = false): Promise<Shot> => ({
  name,
  png: await tab.screenshot({ fullPage, animations: 'disabled' }),
});

async function states(
  context: BrowserContext,
  part: Partial<LiveView> = {},
  deficiency?: string,
): Promise<Shot[]> {
  const shots: Shot[] = [];
  for (const showing of SHOWINGS) {
    const tab = await context.newPage();
    live.view$.next(viewOf({ showing, ...PAGE_STATES[showing], ...part }));
    if (deficiency) {
      const session = await context.newCDPSession(tab);
      await session.send('Emulation.setEmulatedVisionDeficiency', { type: deficiency as 'deuteranopia' });
    }
    await tab.goto(server.url);
    await tab.waitForSelector(`.stage[data-showing="${showing}"]`);
    shots.push(await shoot(tab, showing));
    await tab.close();
  }
  return shots;
}

const phone = (of: Browser, options: object = {}) =>
  of.newContext({ viewport: PHONE, deviceScaleFactor: 1.5, timezoneId: 'America/Chicago', ...options });

const day = await phone(browser);
const dayShots = await states(day);
await sheet('live-day', dayShots);
await sheet('live-thumbnails', dayShots, 0.25, 'grayscale(1)');
await sheet('live-night', await states(day, { dimmed: true }));
await sheet('live-dark', await states(await phone(browser, { colorScheme: 'dark' })), 0.5);
await sheet('live-spanish', await states(await phone(browser, { locale: 'es-MX' })), 0.5);
await sheet('live-wide', await states(await phone(browser, { viewport: { width: 740, height: 360 } })), 0.75);
await sheet(
  'live-service',
  await states(await phone(browser, { viewport: { width: 1280, height: 800 } })),
  0.75,
);
for (const deficiency of ['deuteranopia', 'protanopia', 'tritanopia']) {
  await sheet(`live-${deficiency}`, await states(day, {}, deficiency), 0.5);
}

const HASHES = [
  '#/before',
  '#/feeds',
  '#/feeds/feed-1',
  '#/after/feed-1',
  '#/days',
  '#/week',
  '#/write-feed',
  '#/numbers',
  '#/practice',
  '#/sharing',
];

async function pages(context: BrowserContext, part: Partial<LiveView>): Promise<Shot[]> {
  live.view$.next(viewOf({ showing: 'waiting', ...PAGE_STATES.waiting, ...part }));
  const shots: Shot[] = [];
  const tab = await context.newPage();
  for (const hash of HASHES) {
    await tab.goto(`${server.url}${hash}`);
    await tab.waitForLoadState('networkidle').catch(() => {});
    await tab.waitForTimeout(150);
    shots.push(await shoot(tab, hash, true));
  }
  await tab.goto(invitation);
  shots.push(await shoot(tab, 'join'));
  await tab.goto(`${server.url}#/`);
  live.view$.next(viewOf({ showing: 'gentle', ...part }));
  for (const [name, label] of [
    ['signs', /Stress signs/],
    ['end', /End feed/],
    ['more', /More/],
  ] as const) {
    await tab.getByRole('button', { name: label }).first().click();
    shots.push(await shoot(tab, name));
    await tab.keyboard.press('Escape');
  }
  await tab.getByRole('button', { name: 'End feed' }).click();
  await tab.getByRole('button', { name: 'It was not a feed' }).click();
  shots.push(await shoot(tab, 'leave out'));
  await tab.keyboard.press('Escape');
  for (const [name, notes] of [
    [
      'notices before a feed',
      {
        showing: 'waiting',
        ...PAGE_STATES.waiting,
        notices: ['cues-off', 'quieter'],
        calibration: 'zero-far',
      },
    ],
    ['notices in a feed', { notices: ['cues-off'] }],
    ['battery beside a cue', { showing: 'tilt-down', ...PAGE_STATES['tilt-down'], notices: ['battery-low'] }],
  ] as const satisfies [string, Partial<LiveView>][]) {
    live.view$.next(viewOf({ ...notes, ...part }));
    await tab.waitForTimeout(600);
    shots.push(await shoot(tab, name));
  }
  // Loaded anew: a page that had seen the feed open would go on to the page after the feed.
  await tab.goto('about:blank');
  live.view$.next(viewOf({ showing: 'waiting', feedState: 'ended', aheadOfPace: null, ...part }));
  await tab.goto(`${server.url}#/`);
  await tab.getByText('Feed ended').first().waitFor();
  shots.push(await shoot(tab, 'ended'));
  live.view$.next(viewOf({ showing: 'tilt-down', ...part }));
  await tab.goto(`${server.url}#/feeds`);
  await tab.waitForTimeout(150);
  shots.push(await shoot(tab, 'cue while reading'));
  await tab.close();
  return shots;
}
await sheet('pages-day', await pages(day, {}));
await sheet('pages-night', await pages(day, { dimmed: true }), 0.6);

async function practice(context: BrowserContext): Promise<Shot[]> {
  const tab = await context.newPage();
  const shots: Shot[] = [];
  await tab.clock.install();
  await tab.goto(`${server.url}#/practice`);
  await tab.locator('.lane').first().waitFor();
  await tab.clock.pauseAt((await tab.evaluate(() => Date.now())) + 100);
  await tab.getByRole('button', { name: 'Begin' }).click();
  for (const ms of [0, 7_500, 15_000, 25_000, 60_000]) {
    await tab.clock.runFor(ms);
    shots.push(await shoot(tab, `practice after ${ms} ms more`));
  }
  await tab.close();
  return shots;
}
await sheet(
  'practice-laptop',
  await practice(await phone(browser, { viewport: { width: 1280, height: 800 } })),
  1.5,
);

clearInterval(beat);
await browser.close();
await server.close();
page.remove();
console.log(`contact sheets are in ${folder}`);
