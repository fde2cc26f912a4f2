/** The page about what is kept in a real browser, with a real desk and store behind it; everything in them is invented. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keptDesk } from '../../src/cli/kept/desk.ts';
import { createServer, type PageServer } from '../../src/server/server.ts';
import { type FeedStore, openStore } from '../../src/store/feed-store.ts';
import { builtPage, hasBrowser, launchBrowser, noBrowserReason, PHONE } from '../support/browser.ts';
import { FakeLive, viewOf } from '../support/fake-live.ts';
import { fullFolder, NOW_MS } from '../support/full-store.ts';
import { feedReader, plainGraph } from '../support/kept-feeds.ts';

describe.skipIf(!hasBrowser)(`what is kept${noBrowserReason}`, () => {
  const live = new FakeLive();
  const complaints: string[] = [];
  let built = { folder: '', remove: () => {} };
  let data = '';
  let store: FeedStore;
  let server: PageServer;
  let browser: Browser;
  let beat: NodeJS.Timeout;

  beforeAll(async () => {
    built = builtPage();
    data = fullFolder(mkdtempSync(join(tmpdir(), 'ebbline-kept-page-')));
    store = openStore(data, { recording: true, nowMs: () => NOW_MS });
    server = await createServer({
      live,
      feeds: feedReader([]),
      graph: plainGraph,
      kept: keptDesk(store, data),
      webFolder: built.folder,
      port: 0,
    });
    live.view$.next(viewOf({ showing: 'waiting', feedState: 'none', aheadOfPace: null }));
    beat = setInterval(() => live.repeat(), 250);
    browser = await launchBrowser();
  }, 60_000);
  afterAll(async () => {
    clearInterval(beat);
    await browser?.close();
    await server?.close();
    store?.close();
    built.remove();
    if (data) rmSync(data, { recursive: true });
  });

  async function opened(options: BrowserContextOptions = {}): Promise<Page> {
    const context = await browser.newContext({
      viewport: PHONE,
      locale: 'en-US',
      timezoneId: 'UTC',
      ...options,
    });
    context.setDefaultTimeout(8_000);
    const page = await context.newPage();
    page.on('console', (message) => {
      if (message.type() === 'error') complaints.push(message.text());
    });
    page.on('pageerror', (error) => complaints.push(String(error)));
    await page.goto(`${server.url}#/kept`);
    return page;
  }

  async function isSound(page: Page): Promise<void> {
    const { violations } = await new AxeBuilder({ page }).setLegacyMode().analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`)).toEqual(
      [],
    );
    const small = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>('a, button, input')]
        .filter((target) => target.checkVisibility() && !target.closest('p'))
        .map((target) => ({ html: target.outerHTML.slice(0, 80), box: target.getBoundingClientRect() }))
        .filter(({ box }) => box.width < 44 || box.height < 44)
        .map(({ html }) => html),
    );
    expect(small).toEqual([]);
    const { scrollWidth, clientWidth } = await page.evaluate(() => document.documentElement);
    expect(scrollWidth).toBe(clientWidth);
  }

  it.each([
    ['light', 'en-US', 'What is kept', /Wren: 3 feeds, 1 written in by hand/],
    ['dark', 'es-US', 'Lo que se guarda', /Wren: 3 tomas, 1 anotadas a mano/],
  ] as const)('is told on a phone, on a %s ground (%s)', async (colorScheme, locale, title, baby) => {
    const page = await opened({ colorScheme, locale });
    await page.getByRole('heading', { name: title }).waitFor();
    await page.getByText(baby).waitFor();
    await isSound(page);
    await page.getByRole('button', { name: /Delete all of Wren|Borrar todo de Wren/ }).click();
    await page.getByRole('textbox').waitFor();
    await isSound(page);
    await page.context().close();
  });

  it('can be taken away as a file', async () => {
    const page = await opened();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Save everything as a file' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('ebbline.jsonl');
    const lines = readFileSync(await download.path(), 'utf8')
      .trim()
      .split('\n');
    expect(JSON.parse(lines.at(-1)!)).toEqual({ record: 'end', records: lines.length - 2 });
    await page.context().close();
  });

  it('goes for good only when asked twice', async () => {
    const page = await opened();
    const feeds = () => store.list({ discarded: true }).length;
    await page.getByRole('button', { name: 'Delete all of Wren …' }).click();
    const goOn = page.getByRole('button', { name: 'Go on' });
    expect(await goOn.isDisabled()).toBe(true);
    await page.getByLabel('Type “Wren” to go on').fill('Linnet');
    expect(await goOn.isDisabled()).toBe(true);
    await page.getByLabel('Type “Wren” to go on').fill('wren');
    await goOn.click();
    await page.getByRole('alertdialog', { name: 'Delete all of Wren for good?' }).waitFor();
    await isSound(page);
    await page.getByRole('button', { name: 'No, keep it' }).click();
    expect(feeds()).toBe(4);

    await page.getByRole('button', { name: 'Delete all of Wren …' }).click();
    await page.getByLabel('Type “Wren” to go on').fill('Wren');
    await goOn.click();
    await page.getByRole('button', { name: 'Yes, delete' }).click();
    await page.getByText('All of Wren is deleted: 3 feeds.').waitFor();
    expect(await page.getByText(/^Wren:/).count()).toBe(0);
    await page.getByText('Linnet: 1 feed, 1 written in by hand').waitFor();
    expect(feeds()).toBe(1);
    await page.context().close();
  });

  it('without a complaint of the browser', () => {
    expect(complaints).toEqual([]);
  });
});
