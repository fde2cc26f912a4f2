/** The end of a feed in a real browser, with a real service and store behind it; everything in it is invented. */
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { babyService } from '../../src/app/babies/babies-service.ts';
import { reviewService } from '../../src/app/review/review-service.ts';
import { hasBrowser, noBrowserReason } from '../support/browser.ts';
import { viewOf } from '../support/fake-live.ts';
import { keptFeed } from '../support/kept-feeds.ts';
import { feedAt, storeOf } from '../support/review-store.ts';
import { isSound, ServedPage, seen } from './served-page.ts';

const NOW_MS = Date.UTC(2026, 10, 25, 12);
const MINUTE_MS = 60_000;

describe.skipIf(!hasBrowser)(`the end of a feed${noBrowserReason}`, () => {
  const on = new ServedPage();
  beforeAll(async () => {
    const { setup } = keptFeed();
    const feeds = ['feed-1', 'feed-2', 'feed-3'].map((id, i) =>
      feedAt(keptFeed({ simulated: false }), id, NOW_MS - 25 * MINUTE_MS, {
        setup: { ...setup, milkKind: i === 0 ? null : 'expressed', caregiver: i === 0 ? null : 'Juno' },
      }),
    );
    await on.open(
      (folder) => storeOf(folder, feeds, () => NOW_MS),
      (store) => ({
        babies: babyService(store),
        review: reviewService(store, { nowMs: () => NOW_MS, zone: 'UTC' }),
      }),
    );
  });
  afterAll(() => on.close());

  const sound = async (page: Page) => {
    await isSound(page, { targets: 'a, button, input, summary, textarea', except: 'p *, label *' });
    expect(on.complaints).toEqual([]);
  };
  const step = (page: Page, name: RegExp) => page.getByRole('button', { name });

  it('comes by itself when the feed ends, with the milk, how long ago, and each step at one touch', async () => {
    on.live.view$.next(viewOf({ feedId: 'feed-1', simulated: false }));
    const page = await on.opened('#/');
    await page.getByRole('button', { name: 'End feed' }).waitFor();
    on.live.show({ feedState: 'ended', showing: 'waiting', aheadOfPace: null });
    await page.getByRole('heading', { name: 'After the feed' }).waitFor();
    await page.getByText('Taken: 2¼ fl oz (63 mL). It ended 14 min ago.').waitFor();
    await sound(page);

    await step(page, /^A good burp/).click();
    await step(page, /^A good burp.*noted 12:00/).waitFor();
    await step(page, /^A comfort suck/).click();
    await step(page, /^A comfort suck.*noted/).waitFor();
    await step(page, /^A good burp/).click();
    await expect.poll(() => step(page, /^A good burp/).getAttribute('aria-pressed')).toBe('false');
    expect(on.store.get('feed-1')!.corrected!.after).toEqual({ 'comfort-suck': NOW_MS });
    expect(await step(page, /^A comfort suck/).getAttribute('aria-pressed')).toBe('true');
    const all = await page.locator('.after-steps button > span:first-child').allTextContents();
    expect(all).toEqual([
      'A good burp',
      'Held upright',
      'A comfort suck',
      'Waited 20 to 30 minutes',
      'Perhaps a little more',
    ]);
    await page.getByText('Only if baby asks: ½ fl oz (15 mL)').waitFor();
    await page.context().close();
  });

  it('says until when what is left over may be used, once it is known which milk it was', async () => {
    const page = await on.opened('#/after/feed-1');
    const left = page.locator('.left-over');
    await left.getByText('1 fl oz (27 mL) left over. By the sleeve’s last weighing.').waitFor();
    expect(await seen(left)).not.toContain('May be used');
    await left.getByRole('radio', { name: 'Formula' }).check();
    await left
      .getByText('May be used until 12:35 PM: 1 hour after the feed began. Then throw it away.')
      .waitFor();
    await left.getByRole('radio', { name: 'Expressed' }).check();
    await left
      .getByText('CDC has 2 hours after baby finished, 1:45 PM; the shorter time stands here.')
      .waitFor();
    expect(await seen(left)).toContain(
      'May be used until 12:35 PM: 1 hour after the feed began. Then throw it away. NHS.',
    );
    expect(await seen(left)).toContain('so do the rules where you feed');
    expect(on.store.get('feed-1')!.corrected!.setup.milkKind).toBe('expressed');
    await page.context().close();
  });

  it('keeps a note and who fed', async () => {
    const page = await on.opened('#/after/feed-2');
    const who = page.getByLabel('Who fed');
    expect(await who.inputValue()).toBe('Juno');
    await who.fill('Ash');
    await page.getByLabel('Note').fill('Sleepy, warm day.');
    await page.getByRole('button', { name: 'Keep' }).click();
    await page.getByText('Kept.').waitFor();
    expect(on.store.get('feed-2')!.corrected).toMatchObject({
      setup: { caregiver: 'Ash' },
      note: 'Sleepy, warm day.',
    });
    expect(on.store.get('feed-2')!.setup.caregiver).toBe('Juno');
    await page.context().close();
  });

  it('gives way to the next feed, but not while somebody writes', async () => {
    const ended = { feedState: 'ended', showing: 'waiting', aheadOfPace: null, feedId: 'feed-2' } as const;
    on.live.view$.next(viewOf(ended));
    const page = await on.opened('#/after/feed-2');
    await page.getByLabel('Note').fill('Half a sentence');
    on.live.view$.next(viewOf({ feedId: 'feed-9' }));
    await page.locator('.meanwhile').waitFor();
    expect(await page.getByLabel('Note').inputValue()).toBe('Half a sentence');
    on.live.view$.next(viewOf(ended));
    await page.locator('.meanwhile').waitFor({ state: 'detached' });
    await page.getByLabel('Note').fill('Sleepy, warm day.');
    on.live.view$.next(viewOf({ feedId: 'feed-9' }));
    await page.getByRole('button', { name: 'End feed' }).waitFor();
    await page.context().close();
  });

  it('in Spanish, by night, on a tablet too; never asks to finish', async () => {
    on.live.view$.next(viewOf({ showing: 'waiting', feedState: 'none', dimmed: true, aheadOfPace: null }));
    for (const viewport of [
      { width: 360, height: 740 },
      { width: 768, height: 1024 },
    ]) {
      const page = await on.opened('#/after/feed-3', { locale: 'es-US', viewport });
      await page.getByText('Puede usarse hasta').waitFor();
      await sound(page);
      expect(await seen(page.locator('main'))).not.toMatch(/termin(e|ar) (el|la|su)|acab(e|ar) (el|la|su)/i);
      await page.context().close();
    }
  });

  it('reaches every other page, and where no sleeve is attached the first page says so', async () => {
    on.live.view$.next(viewOf({ showing: 'waiting', feedState: 'none', aheadOfPace: null }));
    const page = await on.opened('#/after/feed-3');
    await page.getByRole('button', { name: 'More: Pages' }).click();
    const links = page.getByRole('dialog').getByRole('link');
    await links.first().waitFor();
    expect(await links.allTextContents()).toEqual([
      'Before a feed',
      'Feeds',
      'Practice',
      'Pack the bottles',
      'Milk list',
      'What is kept',
      'Numbers for builders',
      'Share in the home',
    ]);
    await sound(page);
    await links.filter({ hasText: 'Before a feed' }).click();
    await page.getByRole('heading', { name: 'Before a feed' }).waitFor();
    expect(await page.getByRole('dialog').count()).toBe(0);

    on.live.show({ showing: 'no-guidance', noSleeve: true });
    await page.getByRole('link', { name: 'Now' }).click();
    await page.getByRole('heading', { name: 'No sleeve is attached' }).waitFor();
    await sound(page);
    await page.context().close();
  });
});
