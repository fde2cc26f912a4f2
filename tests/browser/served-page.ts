/** A real desk and a store of its own behind the page, and one browser in front of it: shared by the tests of the pages that need no feed. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { Browser, BrowserContextOptions, Locator, Page } from 'playwright-core';
import { expect } from 'vitest';
import { createServer, type PageServer } from '../../src/server/server.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { builtPage, freshPage, launchBrowser } from '../support/browser.ts';
import { FakeLive, viewOf } from '../support/fake-live.ts';
import { feedReader, plainGraph } from '../support/kept-feeds.ts';

/** As often as the real live feed, so that the page does not take it for gone. */
const BEAT_MS = 250;

type Desks = Partial<Parameters<typeof createServer>[0]>;

export class ServedPage {
  readonly live = new FakeLive();
  /** What the page complained about in its console. */
  readonly complaints: string[] = [];
  readonly #timezoneId: string;
  store!: FeedStore;
  server!: PageServer;
  browser!: Browser;
  #built = { folder: '', remove: () => {} };
  /** The store's own; also for what a page saves. */
  folder = '';
  #beat: NodeJS.Timeout | undefined;

  constructor(timezoneId = 'UTC') {
    this.#timezoneId = timezoneId;
  }

  /** @param makeStore opens a store in an empty folder; @param desks what the server needs of it */
  async open(
    makeStore: (folder: string) => FeedStore,
    desks: (store: FeedStore, folder: string) => Desks,
  ): Promise<void> {
    this.#built = builtPage();
    this.folder = mkdtempSync(join(tmpdir(), 'ebbline-served-page-'));
    this.store = makeStore(this.folder);
    this.server = await createServer({
      live: this.live,
      feeds: feedReader([]),
      graph: plainGraph,
      webFolder: this.#built.folder,
      port: 0,
      ...desks(this.store, this.folder),
    });
    this.live.view$.next(viewOf({ showing: 'waiting', feedState: 'none', aheadOfPace: null }));
    this.#beat = setInterval(() => this.live.repeat(), BEAT_MS);
    this.browser = await launchBrowser();
  }

  async close(): Promise<void> {
    clearInterval(this.#beat);
    await this.browser?.close();
    await this.server?.close();
    this.store?.close();
    this.#built.remove();
    if (this.folder) rmSync(this.folder, { recursive: true });
  }

  /** A phone of its own at `hash`; close its context afterwards. */
  async opened(hash: string, options: BrowserContextOptions = {}): Promise<Page> {
    const timezoneId = this.#timezoneId;
    const page = await freshPage(this.browser, { timezoneId, ...options }, this.complaints);
    await page.goto(`${this.server.url}${hash}`);
    return page;
  }
}

// biome-ignore lint/performance/useDomNodeTextContent: what matters here is what can be seen.
export const seen = (place: Locator): Promise<string> => place.innerText();

/** @param contrast7 holds text to 7:1 as well (WCAG 2.2, 1.4.6) @returns each rule that axe finds broken, with where */
export async function violationsOf(page: Page, { contrast7 = false } = {}): Promise<string[]> {
  const axe = new AxeBuilder({ page }).setLegacyMode();
  if (contrast7) axe.options({ rules: { 'color-contrast-enhanced': { enabled: true } } });
  const { violations } = await axe.analyze();
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`);
}

/**
 * No axe violations with everything folded out, all targets large enough, nothing wider than the phone.
 * WCAG 2.2, 2.5.8 asks for 24 px; here a thumb in the dark has 44.
 * @param targets what is touched; @param except what of it stands within a text, or is as large as its label
 */
export async function isSound(
  page: Page,
  { targets = 'a, button, input, select, summary', except = 'p *' } = {},
): Promise<void> {
  await page.evaluate(async () => {
    for (const one of document.querySelectorAll('details')) one.open = true;
    for (let frame = 0; frame < 2; frame++) await new Promise((done) => requestAnimationFrame(done));
    await Promise.allSettled(document.getAnimations().map((animation) => animation.finished));
  });
  expect(await violationsOf(page)).toEqual([]);
  const small = await page.evaluate(
    (which) =>
      [...document.querySelectorAll<HTMLElement>(which.targets)]
        .filter((target) => target.checkVisibility() && !target.matches(which.except))
        .map((target) => ({ html: target.outerHTML.slice(0, 80), box: target.getBoundingClientRect() }))
        .filter(({ box }) => box.width < 44 || box.height < 44)
        .map(({ html }) => html),
    { targets, except },
  );
  expect(small).toEqual([]);
  const { scrollWidth, clientWidth } = await page.evaluate(() => document.documentElement);
  expect(scrollWidth).toBe(clientWidth);
}
