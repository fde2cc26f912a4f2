/** One browser, one server with a feed that says what it is told, one phone: shared by the suites of the page. */

import type { Browser, BrowserContext, BrowserContextOptions, Locator, Page } from 'playwright-core';
import type { BabiesAnswer, BabyService } from '../../src/app/babies/baby-answers.ts';
import type { LiveView, Showing } from '../../src/feed/live/live-view.ts';
import { feedGraphPng, feedGraphSvg } from '../../src/review/index.ts';
import { createServer, type PageServer } from '../../src/server/server.ts';
import { ShareDoor } from '../../src/server/share-door.ts';
import { builtPage, firstPageBytes, freshPage, launchBrowser } from '../support/browser.ts';
import { FakeLive, viewOf } from '../support/fake-live.ts';
import { freePort } from '../support/free-port.ts';
import { feedReader, keptFeed } from '../support/kept-feeds.ts';
import { PAGE_STATES } from '../support/page-states.ts';
import { practiceFeeds } from '../support/practice-feeds.ts';
import { reviewOf } from '../support/review-service.ts';
import { violationsOf } from './served-page.ts';

/** As often as the real live feed, so that the page does not take it for gone. */
const BEAT_MS = 250;

const KEPT = [keptFeed(), keptFeed({ id: 'feed-2', simulated: false, cues: [], intakeMl: 82.4 })];

const nobody = (): never => {
  throw new Error('no babies here');
};
/** Babies have a test of their own (baby.test.ts). */
const NO_BABIES: BabyService = {
  babies: () => ({ babies: [], questions: [], planFigures: {} as BabiesAnswer['planFigures'] }),
  add: nobody,
  change: nobody,
  undoQuiet: nobody,
};

export class OpenPage {
  live = new FakeLive();
  server!: PageServer;
  /** 127.0.0.2 stands for this machine's address in a home network. */
  door!: ShareDoor;
  browser!: Browser;
  context!: BrowserContext;
  page!: Page;
  /** What the page complained about in its console, refused scripts and styles among it. */
  readonly complaints: string[] = [];
  #built = { folder: '', remove: () => {} };
  #visits = 0;
  #beat: NodeJS.Timeout | undefined;

  async open(): Promise<void> {
    this.#built = builtPage();
    // Of those that the system gives away by itself, somebody could take one before it is opened once more.
    await this.serve(await freePort());
    this.startBeating();
    this.browser = await launchBrowser();
    [this.context, this.page] = await this.phone();
  }

  async serve(port: number): Promise<void> {
    this.door = new ShareDoor({ network: { address: '127.0.0.2', netmask: '255.0.0.0' } });
    this.server = await createServer({
      door: this.door,
      practice: async () => practiceFeeds(),
      technique: () => ({ en: ['Nearly level for most of the time.'], es: [] }),
      live: this.live,
      babies: NO_BABIES,
      feeds: feedReader(KEPT),
      review: reviewOf(KEPT, Date.UTC(2026, 10, 25, 12)),
      graph: feedGraphSvg,
      png: feedGraphPng,
      webFolder: this.#built.folder,
      port,
      todayIso: () => '2026-11-25',
    });
  }

  async close(): Promise<void> {
    clearInterval(this.#beat);
    await this.browser?.close();
    await this.server?.close();
    this.#built.remove();
  }

  startBeating(): void {
    clearInterval(this.#beat);
    this.#beat = setInterval(() => this.live.repeat(), BEAT_MS);
  }

  stopBeating(): void {
    clearInterval(this.#beat);
  }

  /** A new phone of its own, for a test that needs other settings. `hour`: by its clock. */
  async phone(options: BrowserContextOptions = {}, { hour = 12 } = {}): Promise<[BrowserContext, Page]> {
    // With reduced motion the ground changes at once, and tests need not wait.
    const usual = { timezoneId: 'UTC', reducedMotion: 'reduce' } as const;
    const page = await freshPage(this.browser, { ...usual, ...options }, this.complaints, hour);
    return [page.context(), page];
  }

  /** Loads the live page afresh in a state, so that no earlier state is still held. */
  async show(showing: Showing, part: Partial<LiveView> = {}, page = this.page): Promise<void> {
    this.live.view$.next(viewOf({ showing, ...PAGE_STATES[showing], ...part }));
    await this.goTo('#/', page);
    await page.waitForSelector(`.stage[data-showing="${showing}"]`);
  }

  /**
   * Goes over to a state without loading the page. It is loaded if a calm state would hold it back, or if it is in that
   * state already: then nothing would tell that the rest of the view has come.
   */
  async turn(showing: Showing, part: Partial<LiveView> = {}, page = this.page): Promise<void> {
    const now = await page.evaluate(
      () => document.querySelector('.stage')?.getAttribute('data-showing') ?? null,
    );
    const isKept = now === null || now === 'cannot-tell' || now === 'no-guidance' || now === showing;
    if (isKept) return this.show(showing, part, page);
    this.live.view$.next(viewOf({ showing, ...PAGE_STATES[showing], ...part }));
    await page.waitForSelector(`.stage[data-showing="${showing}"]`);
  }

  /**
   * Lets the page's clock stand. It stands from the first call on, even if that fails because the time it names has passed;
   * the second one is then told a time that stands still.
   */
  async pauseClock(page: Page): Promise<void> {
    const pause = async () => page.clock.pauseAt((await page.evaluate(() => Date.now())) + 1);
    await pause().catch((error) => {
      if (!String(error).includes('fast-forward to the past')) throw error;
      return pause();
    });
  }

  /** Loads the live page with a clock that stands from its beginning, so that no view is old however busy the computer is. */
  async showStill(showing: Showing, page: Page): Promise<void> {
    await page.clock.install();
    await this.pauseClock(page);
    this.live.view$.next(viewOf({ showing, ...PAGE_STATES[showing] }));
    await this.goTo('#/', page);
    await page.waitForSelector('.stage');
    // A page that is drawn asks for views with its clock's next step.
    await page.clock.runFor(100);
    await page.waitForSelector(`.stage[data-showing="${showing}"]`);
  }

  async goTo(hash: string, page = this.page): Promise<void> {
    // Each visit has another query; with a new hash alone the browser would load nothing.
    await page.goto(`${this.server.url}?visit=${++this.#visits}${hash}`, { waitUntil: 'commit' });
  }

  /** The text as it is seen: without what is hidden, with line breaks where they show. */
  seen(locator: Locator | string = 'body', page = this.page): Promise<string> {
    const place = typeof locator === 'string' ? page.locator(locator) : locator;
    // biome-ignore lint/performance/useDomNodeTextContent: what matters here is what can be seen.
    return place.innerText();
  }

  async axeViolations(page = this.page, options: { contrast7?: boolean } = {}): Promise<string[]> {
    // The ground goes over from dark to paper within a quarter of a second; only what stays is judged.
    await page.evaluate(async () => {
      // The new ground is set after the new page is drawn: let two frames pass, so that the change has begun.
      for (let frame = 0; frame < 2; frame++) await new Promise((done) => requestAnimationFrame(done));
      const changes = document.getAnimations().filter((animation) => animation instanceof CSSTransition);
      await Promise.allSettled(changes.map((animation) => animation.finished));
    });
    return violationsOf(page, options);
  }

  /** Everything that can be touched and is smaller than 44 × 44 CSS px. */
  smallTargets(page = this.page): Promise<string[]> {
    return page.evaluate(() => {
      const targets = [...document.querySelectorAll<HTMLElement>('a, button, input, select, summary')];
      return targets
        .filter((target) => target.checkVisibility() && !target.closest('p'))
        .map((target) => ({ target, box: target.getBoundingClientRect() }))
        .filter(({ box }) => box.width < 44 || box.height < 44)
        .map(({ target, box }) => `${target.outerHTML.slice(0, 80)} ${box.width}×${box.height}`);
    });
  }

  async scrollsSideways(page = this.page): Promise<boolean> {
    return page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth);
  }

  firstWeight(): number {
    return firstPageBytes(this.#built.folder);
  }
}
