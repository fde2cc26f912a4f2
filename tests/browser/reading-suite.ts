/** Before a feed, the list of feeds, one feed. */
import { describe, expect, it } from 'vitest';
import { WORDS } from '../../src/pacing/cues/words.ts';
import { EMPTY_SETUP, viewOf } from '../support/fake-live.ts';
import type { OpenPage } from './open-page.ts';

export function readingSuite(open: OpenPage): void {
  const sound = async () => {
    expect(await open.axeViolations()).toEqual([]);
    expect(await open.smallTargets()).toEqual([]);
    expect(await open.scrollsSideways()).toBe(false);
    expect(await open.seen('.cautions')).toContain(WORDS.en.caution);
  };
  const idle = (part = {}) =>
    open.live.view$.next(viewOf({ showing: 'waiting', feedState: 'none', aheadOfPace: null, ...part }));

  describe('before a feed', () => {
    it('keeps what is entered, fl oz first with mL beside', async () => {
      const { page } = open;
      idle({ setup: { ...EMPTY_SETUP, bottleName: 'the blue one' } });
      await open.goTo('#/before');
      await page.getByLabel('Bottle', { exact: true }).waitFor();
      expect(await page.getByLabel('Bottle', { exact: true }).inputValue()).toBe('the blue one');
      await page.getByRole('radio', { name: 'Another baby' }).check();
      await page.getByLabel('Name').fill('Ilo');
      await page.getByLabel('Born on').fill('2026-09-01');
      await page.getByRole('radio', { name: 'Expressed' }).check();
      await page.getByRole('button', { name: 'More', exact: true }).click();
      await page.getByRole('button', { name: 'More', exact: true }).click();
      expect(await open.seen(page.getByRole('status').first())).toBe('2¼ fl oz (67 mL)');
      await page.getByLabel('Who feeds').fill('R.');
      await sound();
      open.live.commands.length = 0;
      await page.getByRole('button', { name: 'Keep' }).click();
      await page.waitForSelector('.stage');
      expect(open.live.commands).toEqual([
        {
          kind: 'setup',
          setup: {
            babyName: 'Ilo',
            babyBirthDate: '2026-09-01',
            bottleName: 'the blue one',
            milkKind: 'expressed',
            portionMl: 66.54,
            caregiver: 'R.',
          },
        },
      ]);
    });

    it('offers babies of earlier feeds at one touch, and can be skipped without a word', async () => {
      const { page } = open;
      idle();
      await open.goTo('#/before');
      await page.getByRole('radio', { name: 'Juno' }).check();
      expect(await page.getByLabel('Born on').inputValue()).toBe('2026-08-30');
      open.live.commands.length = 0;
      await page.getByRole('button', { name: 'Skip' }).click();
      await page.waitForSelector('.stage');
      expect(open.live.commands).toEqual([]);
    });

    it('says what is wrong with an entry, and keeps the rest on the page', async () => {
      const { page } = open;
      idle();
      await open.goTo('#/before');
      await page.getByLabel('Born on').fill('2027-01-01');
      await page.getByLabel('Who feeds').fill('R.');
      await page.getByRole('button', { name: 'Keep' }).click();
      expect(await open.seen(page.getByRole('alert'))).toContain('lies in the future');
      expect(await page.getByLabel('Who feeds').inputValue()).toBe('R.');
    });
  });

  describe('feeds', () => {
    it('lists amount, minutes and cues, and marks the simulated', async () => {
      const { page } = open;
      idle();
      await open.goTo('#/feeds');
      const lines = page.locator('.feed-line');
      await lines.first().waitFor();
      expect(await open.seen(lines.nth(0))).toMatch(
        /6:05\sPM\s+2¼ fl oz \(63 mL\)\s+11 min · 3 cues · Juno\s+simulated/,
      );
      expect(await open.seen(lines.nth(1))).not.toContain('simulated');
      await sound();
    });

    it('turns the units, and keeps that for next time', async () => {
      const { page } = open;
      await page.getByRole('radio', { name: 'mL' }).check();
      await page.getByText('63 mL (2¼ fl oz)').waitFor();
      await open.goTo('#/feeds');
      await page.getByText('63 mL (2¼ fl oz)').waitFor();
      await page.getByRole('radio', { name: 'fl oz' }).check();
    });

    it('shows one feed: sentence, graph in the page, table, files to save', async () => {
      const { page } = open;
      await page.locator('.feed-line').first().click();
      await page
        .locator('p.lead', { hasText: '2¼ fl oz (63 mL) taken in 11 min; milk never ran fast.' })
        .waitFor();
      const graph = page.locator('.graph svg');
      await graph.waitFor();
      expect((await graph.boundingBox())?.width).toBeLessThanOrEqual(330);
      await page.getByText('Minute by minute').click();
      expect(await page.locator('.minutes tbody tr').count()).toBe(11);
      expect(await open.seen(page.locator('.minutes tbody tr').nth(2))).toMatch(
        /3\s+6\.0\s+0\.61\s+18\.0\s+Burp/,
      );
      await page.getByText('Save to hand on').click();
      for (const kind of ['svg', 'png']) {
        const link = page.getByRole('link', { name: `Save as ${kind.toUpperCase()}` });
        expect(await link.getAttribute('download')).toBe(`ebbline-feed-1.${kind}`);
        const answer = await page.request.get(
          new URL((await link.getAttribute('href'))!, open.server.url).href,
        );
        expect(answer.headers()['content-type']).toContain(kind === 'svg' ? 'image/svg+xml' : 'image/png');
      }
      await sound();
    });

    it('says plainly that a feed is not there', async () => {
      await open.goTo('#/feeds/none');
      expect(await open.seen(open.page.getByRole('alert'))).toContain('There is no kept feed of that name.');
    });

    it('carries a cue of a running feed, and the way back', async () => {
      open.live.view$.next(viewOf({ showing: 'tilt-down' }));
      await open.goTo('#/feeds');
      await open.page.getByRole('button', { name: 'Stress signs' }).click();
      const card = await open.seen(open.page.getByRole('dialog'));
      expect(card).toContain(WORDS.en.stressCard.emergency);
      expect(card).toContain('Lower your hand');
      await open.page.getByRole('button', { name: 'Close' }).click();
      expect(await open.axeViolations()).toEqual([]);
      expect(await open.smallTargets()).toEqual([]);
      expect(await open.scrollsSideways()).toBe(false);
      await open.page.getByRole('link', { name: /Lower your hand/ }).click();
      await open.page.waitForSelector('.stage[data-showing="tilt-down"]');
    });
  });
}
