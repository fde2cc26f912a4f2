/** The pages for packing and milk in a real browser, with a real desk and store behind them; everything in them is invented. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import AxeBuilder from '@axe-core/playwright';
import type { Browser, BrowserContextOptions, Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { packingDesk } from '../../src/cli/packing/desk.ts';
import { WORDS } from '../../src/pacing/words.ts';
import { createServer, type PageServer } from '../../src/server/server.ts';
import type { FeedStore } from '../../src/store/feed-store.ts';
import { builtPage, hasBrowser, launchBrowser, noBrowserReason, PHONE } from '../support/browser.ts';
import { FakeLive, viewOf } from '../support/fake-live.ts';
import { feedReader, plainGraph } from '../support/kept-feeds.ts';
import { DAY_MS, packingStore } from '../support/packing-store.ts';

describe.skipIf(!hasBrowser)(`packing and milk${noBrowserReason}`, () => {
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
    data = mkdtempSync(join(tmpdir(), 'ebbline-packing-page-'));
    store = packingStore(data, Date.now());
    server = await createServer({
      live,
      feeds: feedReader([]),
      graph: plainGraph,
      packing: packingDesk(store, { nowMs: Date.now, zone: 'UTC' }),
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

  async function opened(hash: string, options: BrowserContextOptions = {}): Promise<Page> {
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
    await page.goto(`${server.url}${hash}`);
    return page;
  }

  // biome-ignore lint/performance/useDomNodeTextContent: what matters here is what can be seen.
  const seen = (place: Locator): Promise<string> => place.innerText();

  /** No axe violations with everything folded out, all targets large enough, nothing wider than the phone. */
  async function isSound(page: Page): Promise<void> {
    await page.evaluate(async () => {
      for (const one of document.querySelectorAll('details')) one.open = true;
      for (let frame = 0; frame < 2; frame++) await new Promise((done) => requestAnimationFrame(done));
      await Promise.allSettled(document.getAnimations().map((animation) => animation.finished));
    });
    const { violations } = await new AxeBuilder({ page }).setLegacyMode().analyze();
    expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html).join(' | ')}`)).toEqual(
      [],
    );
    const small = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>('a, button, input, select, summary')]
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
    ['light', 'en-US', 'Pack the bottles', 'en'],
    ['dark', 'es-US', 'Preparar los biberones', 'es'],
  ] as const)(
    'say what to pack on a phone, on a %s ground (%s)',
    async (colorScheme, locale, title, language) => {
      const page = await opened('#/packing', { colorScheme, locale });
      await page.getByRole('heading', { name: title }).waitFor();
      const bag = page.locator('.bag');
      await bag.waitFor();
      expect(await seen(bag)).toMatch(/\d × \d½? fl oz \(\d+ mL\)[\s\S]*(spare|reserva)/);
      expect(await page.locator('.trade tbody tr').count()).toBe(3);
      expect(await seen(page.locator('.cautions'))).toContain(WORDS[language].caution);
      await isSound(page);
      await page.context().close();
    },
  );

  it('take other hours, count the feeds anew, and keep the hours for tomorrow night', async () => {
    const page = await opened('#/packing');
    const feeds = page.getByRole('group', { name: 'Feeds you will miss' }).getByRole('status');
    await page.locator('.bag').waitFor();
    expect(await seen(feeds)).toBe('3');
    await page.getByLabel('until').fill('12:30');
    await page.waitForFunction(() => document.querySelector('output')?.textContent === '2');
    await page.getByRole('button', { name: 'Feeds you will miss: One fewer' }).click();
    await page.getByText('as you set it').waitFor();
    expect(await seen(feeds)).toBe('1');
    await page.reload();
    await page.locator('.bag').waitFor();
    expect(await page.getByLabel('until').inputValue()).toBe('12:30');
    await page.getByLabel('until').fill('17:30');
    await page.waitForFunction(() => document.querySelector('output')?.textContent === '3');
    await page.context().close();
  });

  it('hold to the limit she sets', async () => {
    const page = await opened('#/packing');
    const short = page.locator('.trade tbody tr').first().locator('td').last();
    await page.locator('.bag').waitFor();
    await page.getByRole('radio', { name: '20', exact: true }).check();
    const isWithin = (most: number) =>
      page.waitForFunction((limit) => {
        const cell = document.querySelector('.trade tbody tr td:last-child')?.textContent ?? '';
        return cell !== '' && Number(cell.replace('< 1', '0')) <= limit;
      }, most);
    await isWithin(20);
    await page.getByRole('radio', { name: '2', exact: true }).check();
    await isWithin(2);
    expect(Number((await seen(short)).replace('< 1', '0'))).toBeLessThanOrEqual(2);
    await page.getByRole('radio', { name: '5', exact: true }).check();
    await isWithin(5);
    await page.context().close();
  });

  it('say at the field what is wrong', async () => {
    const page = await opened('#/packing');
    await page.locator('.bag').waitFor();
    await page.getByLabel('Day', { exact: true }).fill('2020-01-01');
    const alert = page
      .locator('.field')
      .filter({ has: page.getByLabel('Day', { exact: true }) })
      .getByRole('alert');
    await alert.waitFor();
    expect(await seen(alert)).toContain('That time is over.');
    await page.context().close();
  });

  it('print once there is somebody to call', async () => {
    const page = await opened('#/packing');
    await page.getByText('enter that under “Rules and people” first').waitFor();
    await page.getByText('Rules and people', { exact: true }).click();
    const call = page.getByRole('group', { name: 'Whom they call' });
    await call.getByLabel('Name').fill('Mara');
    await call.getByLabel('Phone').fill('555-0142');
    await page.getByRole('button', { name: 'Keep' }).click();
    const link = page.getByRole('link', { name: 'Feeding plan, PDF' });
    await link.waitFor();
    const answer = await page.request.get(new URL((await link.getAttribute('href'))!, server.url).href);
    expect([answer.status(), answer.headers()['content-type']]).toEqual([200, 'application/pdf']);
    const sheet = await page.getByRole('link', { name: 'Day sheet, Page' }).getAttribute('href');
    // Served, it runs no script, not even this checker's; so it is looked at by itself.
    const paper = await page.context().newPage();
    await paper.setContent(await (await page.request.get(new URL(sheet!, server.url).href)).text());
    await paper.getByRole('heading', { name: 'Today’s feeds' }).waitFor();
    const { violations } = await new AxeBuilder({ page: paper }).setLegacyMode().analyze();
    expect(violations.map(({ id }) => id)).toEqual([]);
    await page.context().close();
  });

  it('keep a milk list: in, moved, thrown away, taken back; a label stands once', async () => {
    const page = await opened('#/milk');
    await page.getByText('No milk is in the list yet.').waitFor();
    const add = async (label: string, place: string) => {
      await page.getByText('Add milk').click();
      await page.getByLabel('Label on the lid').fill(label);
      await page.getByRole('radio', { name: place }).check();
      await page.getByRole('button', { name: 'Enter it' }).click();
    };
    await add('lid 7', 'In the fridge');
    const line = page.locator('.container-line').filter({ hasText: 'lid 7' });
    await line.waitFor();
    expect(await seen(line)).toMatch(
      /The published time passes .*: 4 days after expressing, in the fridge \(CDC/,
    );
    await isSound(page);
    await page.getByLabel('Label on the lid').fill('lid 7');
    await page.getByRole('button', { name: 'Enter it' }).click();
    const alert = page
      .locator('.field')
      .filter({ has: page.getByLabel('Label on the lid') })
      .getByRole('alert');
    expect(await seen(alert)).toContain('Container lid 7 is in the ledger already.');
    await page.getByLabel('Expressed or made').fill('2099-01-01T08:00');
    await page.getByLabel('Label on the lid').fill('lid 8');
    await page.getByRole('button', { name: 'Enter it' }).click();
    await page.locator('.field [role="alert"]', { hasText: 'future' }).waitFor();
    expect(store.readMilkEvents()).toHaveLength(1);

    await line.getByRole('button', { name: 'Into the freezer' }).click();
    await page.getByRole('heading', { name: 'In the freezer' }).waitFor();
    await line.locator('summary').click();
    await line.getByRole('button', { name: 'Thrown away' }).click();
    await line.waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Take back' }).first().click();
    await line.waitFor();
    expect(store.readMilkEvents().map(({ kind }) => kind)).toEqual([
      'got',
      'stored',
      'discarded',
      'taken-back',
    ]);
    await page.context().close();
  });

  it('go by the clock of the machine that keeps the list, however wrong the phone’s is', async () => {
    const page = await opened('#/packing');
    await page.clock.setFixedTime(Date.now() + 10 * 60_000);
    await page.goto(`${server.url}?late#/milk`);
    const line = page.locator('.container-line').filter({ hasText: 'lid 7' });
    await line.locator('summary').click();
    await line.getByRole('button', { name: 'Hold back' }).click();
    await line.getByText(/· held back/).waitFor();
    expect(store.readMilkEvents().at(-1)!.atMs).toBeLessThanOrEqual(Date.now());
    await page.context().close();
  });

  it('ask which bottle an ended feed was, and write it when somebody says so', async () => {
    const atMs = Date.now() - 1.9 * DAY_MS;
    store.appendMilkEvents([
      {
        atMs,
        babyId: null,
        container: 'blue',
        kind: 'got',
        entry: {
          what: 'got',
          atMs: Math.round(atMs),
          id: 'blue',
          kind: 'expressed',
          ml: 90,
          place: 'fridge',
        },
      },
    ]);
    const page = await opened('#/milk');
    const proposal = page.locator('.proposal').first();
    expect(await seen(proposal)).toMatch(/The feed of .* took 2½ fl oz \(7\d mL\)\. From which bottle\?/);
    await isSound(page);
    await proposal.getByRole('button', { name: 'Enter this feed' }).click();
    await page.getByText('left from a feed').waitFor();
    expect(
      store
        .readMilkEvents()
        .slice(-2)
        .map(({ kind }) => kind),
    ).toEqual(['offered', 'fed']);
    await page.context().close();
  });

  it('put filled bottles into the list at one touch', async () => {
    store.appendMilkEvents([
      {
        atMs: Date.now() - 1000,
        babyId: null,
        container: 'jug',
        kind: 'got',
        entry: {
          what: 'got',
          atMs: Date.now() - 1000,
          id: 'jug',
          kind: 'expressed',
          ml: 500,
          place: 'fridge',
        },
      },
    ]);
    const page = await opened('#/packing');
    await page.getByText('Fill them from').click();
    await page.getByRole('button', { name: 'Filled: put it into the milk list' }).click();
    await page.getByText('one label for each bottle').waitFor();
    expect(store.readMilkEvents().filter(({ kind }) => kind === 'poured').length).toBeGreaterThanOrEqual(3);
    await page.getByRole('link', { name: 'Milk list' }).click();
    await page.getByText(/ #1/).first().waitFor();
    await page.context().close();
  });

  it('broke none of the page’s own rules', () => {
    expect(complaints.filter((text) => !/status of (422|404)/.test(text))).toEqual([]);
  });
});
