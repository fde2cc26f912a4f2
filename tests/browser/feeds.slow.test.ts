/** What happened, in a real browser with a real store: a feed, a day, a week, feeds written in, files to hand on. Everything is invented. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { reviewService } from '../../src/app/review/review-service.ts';
import { feedGraphPng, feedGraphSvg } from '../../src/review/index.ts';
import { hasBrowser, noBrowserReason, PHONE } from '../support/browser.ts';
import { eventfulFeed, fastFeed, gentleFeed, refusedFeed } from '../support/graph-feeds.ts';
import { feedAt, storeOf } from '../support/review-store.ts';
import { isSound, ServedPage, seen, violationsOf } from './served-page.ts';

const ZONE = 'America/New_York';
const NOW_MS = Date.parse('2026-11-03T02:00:00Z');
const HOUR_MS = 3_600_000;

describe.skipIf(!hasBrowser)(`what happened${noBrowserReason}`, () => {
  const on = new ServedPage(ZONE);

  beforeAll(async () => {
    const setup = (bottleName: string) => ({
      setup: { ...gentleFeed().setup, bottleName },
      simulated: false,
    });
    const older = Array.from({ length: 40 }, (_, i) =>
      feedAt(refusedFeed(), `older-${i}`, NOW_MS - (60 + i * 9) * HOUR_MS, {
        ...setup('steel'),
        intakeMl: 80,
      }),
    );
    await on.open(
      (folder) =>
        storeOf(
          folder,
          [
            ...older,
            // Half past one in the morning, twice: the clocks went back.
            feedAt(
              gentleFeed(),
              'first-half-past-one',
              Date.parse('2026-11-01T05:30:00Z'),
              setup('blue cap'),
            ),
            feedAt(fastFeed(), 'second-half-past-one', Date.parse('2026-11-01T06:30:00Z'), setup('blue cap')),
            feedAt(eventfulFeed(), 'eventful', Date.parse('2026-11-02T17:15:00Z'), setup('red cap')),
          ],
          () => NOW_MS,
        ),
      (store) => {
        store.writeZone(ZONE);
        return {
          feeds: store,
          graph: feedGraphSvg,
          png: feedGraphPng,
          review: reviewService(store, { nowMs: () => NOW_MS, zone: ZONE }),
        };
      },
    );
  });
  afterAll(() => on.close());

  const isSoundHere = (page: Page): Promise<void> => isSound(page, { except: 'p:not(.saves, .ways-on) *' });

  it('one feed: sentence, cues and what followed, numbers where the finger is', async () => {
    const page = await on.opened('#/feeds/eventful');
    await page
      .getByText(/taken in 15 min; .* was spilt; .* was poured in; milk ran fast once, for about 2 minutes\./)
      .first()
      .waitFor();
    expect(await seen(page.locator('.cue-list li').first())).toMatch(
      /0:36\s+Lower your hand\s+by page and light; the feed went on/,
    );
    const graph = page.locator('.pointed');
    await graph.locator('svg').waitFor();
    const reading = page.locator('.reading-off output');
    expect(await seen(reading)).toContain('Touch the graph');
    const box = (await graph.boundingBox())!;
    await page.mouse.move(box.x + box.width / 2, box.y + 60);
    await page.locator('.hair').waitFor();
    expect(await seen(reading)).toMatch(/^[67]:\d\d .*(so far · flow \d+\.\d mL\/min · \d+ sucks|not known)/);
    // With the keyboard too, and named for screen readers.
    const slider = page.getByLabel('Point in the feed');
    await slider.focus();
    await page.keyboard.press('Home');
    await page.keyboard.press('ArrowRight');
    expect(await slider.getAttribute('aria-valuetext')).toMatch(/^0:01: /);
    await isSoundHere(page);
    await page.context().close();
  });

  it('what was read off the bottle stands beside, and says at the field what is wrong', async () => {
    const page = await on.opened('#/feeds/first-half-past-one');
    await page.getByText('Beside it', { exact: true }).click();
    await page.getByLabel('In the bottle before').fill('2');
    await page.getByLabel('Left over').fill('3');
    await page.getByRole('button', { name: 'Keep' }).click();
    const alert = page.locator('.field', { has: page.getByLabel('Left over') }).getByRole('alert');
    expect(await seen(alert)).toContain('is more than was offered');
    expect(on.store.get('first-half-past-one')!.corrections).toBeUndefined();
    await page.getByLabel('In the bottle before').fill('3½');
    await page.getByLabel('Left over').fill('0.5');
    await page.getByLabel('Note', { exact: true }).fill('slept right after');
    await page.getByRole('button', { name: 'Keep' }).click();
    await page.getByText('By the bottle’s own marks: 3 fl oz (89 mL) taken.').waitFor();
    await page.locator('.note', { hasText: 'slept right after' }).waitFor();
    await page.locator('.lead', { hasText: 'taken in 18 min' }).waitFor();
    expect(on.store.get('first-half-past-one')!.corrected).toMatchObject({ note: 'slept right after' });
    await isSoundHere(page);
    await page.context().close();
  });

  it('a file to hand on opens without a server, and asks nothing of a network', async () => {
    const page = await on.opened('#/feeds/first-half-past-one');
    await page.getByText('Save to hand on').click();
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Save as a page' }).click(),
    ]);
    const path = join(on.folder, download.suggestedFilename());
    await download.saveAs(path);
    const html = readFileSync(path, 'utf8');
    expect(html).not.toMatch(/Wren|Juno/);
    const context = await on.browser.newContext({ viewport: PHONE, offline: true });
    const paper = await context.newPage();
    const asked: string[] = [];
    paper.on('request', (request) => asked.push(request.url()));
    paper.on('console', (message) => on.complaints.push(message.text()));
    await paper.goto(`file://${path}`);
    expect(asked).toEqual([`file://${path}`]);
    await paper.getByRole('heading', { level: 1, name: / taken in / }).waitFor();
    expect(await paper.locator('svg').count()).toBe(1);
    expect(await seen(paper.locator('body'))).toContain('slept right after');
    const { scrollWidth, clientWidth } = await paper.evaluate(() => document.documentElement);
    expect(scrollWidth).toBe(clientWidth);
    await context.close();
    // The page allows no script, not even the checker's, so a copy without that rule is checked.
    const bare = await page.context().newPage();
    await bare.setContent(html.replace(/<meta http-equiv[^>]*>/, ''));
    expect(await violationsOf(bare)).toEqual([]);
    const pdf = await page.request.get(`${on.server.url}feeds/first-half-past-one/file.pdf?names=1&note=`);
    expect(pdf.headers()['content-type']).toBe('application/pdf');
    expect((await pdf.body()).subarray(0, 5).toString()).toBe('%PDF-');
    await page.context().close();
  });

  it('two feeds over each other', async () => {
    const page = await on.opened('#/feeds/second-half-past-one');
    await page.getByText('Beside another feed').click();
    await page.getByLabel('Other feed').selectOption('first-half-past-one');
    await page.getByRole('link', { name: 'Lay over each other' }).click();
    await page.getByRole('heading', { name: 'Two feeds' }).waitFor();
    await page.locator('.graph svg').waitFor();
    await isSoundHere(page);
    await page.context().close();
  });

  it.each([
    ['light', 'en-US'],
    ['dark', 'es-US'],
  ] as const)('a day on which the clocks went back, on a %s ground (%s)', async (colorScheme, locale) => {
    const page = await on.opened('#/days/2026-11-01', { colorScheme, locale });
    const lines = page.locator('.feed-line');
    await lines.nth(1).waitFor();
    expect(await seen(lines.nth(0))).toMatch(/1:30.*EDT/);
    expect(await seen(lines.nth(1))).toMatch(/1:30.*EST/);
    expect(await seen(page.locator('.told'))).toMatch(/25 (hours|horas)/);
    await isSoundHere(page);
    await page.context().close();
  });

  it('feeds at the breast and without a sleeve are written in, and taken back', async () => {
    const page = await on.opened('#/write-feed/2026-11-01');
    await page.getByRole('radio', { name: 'Bottle', exact: true }).check();
    await page.getByLabel('Began at').fill('01:30');
    await page.getByLabel('The clocks went back').check();
    await page.getByLabel('In the bottle before').fill('three');
    await page.getByRole('button', { name: 'Keep' }).click();
    await page.locator('.field [role="alert"]', { hasText: 'Write a number' }).waitFor();
    await page.getByLabel('In the bottle before').fill('3');
    await page.getByLabel('Left over').fill('1');
    await page.getByLabel('Minutes').fill('12');
    await isSoundHere(page);
    await page.getByRole('button', { name: 'Keep' }).click();
    const line = page.locator('.feed-line').filter({ hasText: 'written in by hand' });
    await line.waitFor();
    expect(await seen(line)).toMatch(/1:30 AM EST\s+2 fl oz \(59 mL\)\s+12 min · written in by hand/);
    expect(on.store.listHandFeeds()[0]!.atMs).toBe(Date.parse('2026-11-01T06:30:00Z'));
    await page.getByRole('button', { name: /^Take back/ }).click();
    await line.waitFor({ state: 'detached' });
    expect(on.store.listHandFeeds()).toEqual([]);
    expect(on.store.listHandFeeds({ withdrawn: true })).toHaveLength(1);

    await page.getByRole('link', { name: 'Write a feed in' }).click();
    await page.getByRole('radio', { name: 'Offered, hardly taken' }).check();
    expect(await seen(page.locator('.note'))).toContain('5 mL is a good try');
    await page.getByLabel('Day', { exact: true }).fill('2026-11-20');
    await page.getByRole('button', { name: 'Keep' }).click();
    await page.locator('.field [role="alert"]', { hasText: 'lies in the future' }).waitFor();
    await page.context().close();
  });

  it('seven days: a table, the seven before, the milk list', async () => {
    const page = await on.opened('#/week/2026-11-02');
    await page.locator('.told tbody tr').nth(6).waitFor();
    expect(await seen(page.locator('.told'))).toMatch(/Oct 27|Not compared/);
    await page.getByText(/Not compared: .* it takes 10 on either side|middle half/).waitFor();
    await isSoundHere(page);
    await page.getByRole('link', { name: 'Sun, Nov 1' }).click();
    await page.getByRole('heading', { name: 'Sunday, November 1' }).waitFor();
    await page.context().close();
  });

  it('feeds are found by day, bottle and page after page', async () => {
    const page = await on.opened('#/feeds');
    const lines = page.locator('.feed-line');
    await page.getByRole('button', { name: 'Earlier feeds' }).waitFor();
    expect(await lines.count()).toBe(30);
    await page.getByRole('button', { name: 'Earlier feeds' }).click();
    await expect.poll(() => lines.count()).toBe(43);
    expect(await page.getByRole('button', { name: 'Earlier feeds' }).count()).toBe(0);
    await page.getByText('Find a feed').click();
    await page.getByLabel('Bottle', { exact: true }).selectOption('blue cap');
    await expect.poll(() => lines.count()).toBe(2);
    await page.getByLabel('Up to day').fill('2026-10-31');
    await page.getByText('No feed fits.').waitFor();
    await page.getByLabel('Bottle', { exact: true }).selectOption('steel');
    await expect.poll(() => lines.count()).toBe(30);
    await isSoundHere(page);
    await page.context().close();
  });

  it('breaks no rule of the content security policy', () => {
    expect(on.complaints.filter((text) => !/status of (422|404)/.test(text))).toEqual([]);
  });

  it('feeds that say only a name are asked about, and one touch answers', async () => {
    const entry = {
      ...{ kind: 'breast' as const, durationSec: 600, offeredMl: null, leftMl: null, milkKind: null },
      ...{ side: null, caregiver: null, note: null, babyName: 'Sol' },
    };
    on.store.addHandFeed({ ...entry, atMs: NOW_MS - 30 * HOUR_MS, babyId: 'sol-1' });
    const { id } = on.store.addHandFeed({ ...entry, atMs: NOW_MS - 29 * HOUR_MS, babyId: null });
    const page = await on.opened('#/days');
    await page.getByText('1 feed says only the name Sol.').waitFor();
    await isSoundHere(page);
    const note = page.getByRole('region', { name: 'Sol' });
    await note.getByRole('button', { name: 'Sol' }).click();
    await note.waitFor({ state: 'detached' });
    expect(on.store.getHandFeed(id)!.babyId).toBe('sol-1');
    await page.close();
  });
});
