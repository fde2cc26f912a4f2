/** What touches do on the live page. */
import { describe, expect, it } from 'vitest';
import { WORDS } from '../../src/pacing/cues/words.ts';
import type { OpenPage } from './open-page.ts';

export function touchSuite(open: OpenPage): void {
  const button = (name: string | RegExp) => open.page.getByRole('button', { name, exact: true });
  const sent = () => open.live.commands.splice(0);

  describe('buttons of the live page', () => {
    it('one touch: burped, cues off, sound, dim, each way', async () => {
      await open.show('gentle');
      sent();
      await button('Burped').click();
      await open.page.getByText('Burp noted.').waitFor();
      await button('Sound').click();
      await open.page.locator('.touch[aria-pressed="true"]', { hasText: 'Sound' }).waitFor();
      await button('Dim').click();
      await open.page.waitForSelector('html[data-tone="night"]');
      await button('Cues off').click();
      await open.page.waitForSelector('.stage[data-showing="guidance-off"]');
      await button('Turn cues on').click();
      await open.page.waitForSelector('.stage[data-showing="gentle"]');
      expect(sent()).toEqual([
        { kind: 'burped' },
        { kind: 'mute', on: false },
        { kind: 'dim', on: true },
        { kind: 'guidance-off', on: true },
        { kind: 'guidance-off', on: false },
      ]);
    });

    it('ends a feed only after asking', async () => {
      await open.show('gentle');
      await button('End feed').click();
      expect(await open.axeViolations()).toEqual([]);
      expect(await open.smallTargets()).toEqual([]);
      await button('Go on feeding').click();
      expect(sent()).toEqual([]);
      await button('End feed').click();
      await open.page.getByRole('dialog').getByRole('button', { name: 'End feed' }).click();
      await open.page.getByRole('heading', { name: 'After the feed' }).waitFor();
      expect(sent()).toEqual([{ kind: 'end-feed' }]);
      await open.page.getByText('Taken: 2¼ fl oz (63 mL).').waitFor();
      await open.page.getByRole('link', { name: 'Now' }).click();
      await open.page.getByText('Feed ended', { exact: true }).waitFor();
      expect(await open.page.locator('svg.picture').getAttribute('data-picture')).toBe('ended');
      expect(await open.page.getByRole('link', { name: 'After the feed' }).getAttribute('href')).toBe(
        '#/after/feed-1',
      );
      expect(await button('Burped').isDisabled()).toBe(true);
    });

    it('leaves a feed out only after asking twice', async () => {
      await open.show('gentle');
      await button('End feed').click();
      await button('It was not a feed').click();
      expect(sent()).toEqual([]);
      expect(await open.axeViolations()).toEqual([]);
      await button('Leave it out').click();
      await open.page.getByText('Left out', { exact: true }).waitFor();
      expect(sent()).toEqual([{ kind: 'discard-feed' }]);
    });

    it('the card of stress signs is one touch away in every state, and hides no cue', async () => {
      for (const showing of ['waiting', 'tilt-down', 'no-guidance'] as const) {
        await open.show(showing);
        await button('Stress signs').click();
        const card = await open.seen(open.page.getByRole('dialog'));
        for (const sign of WORDS.en.stressCard.signs) expect(card).toContain(sign);
        expect(card).toContain(WORDS.en.stressCard.emergency);
        expect(card).toContain(WORDS.en.stressCard.notWatched);
        expect(card.includes('Lower your hand')).toBe(showing === 'tilt-down');
        const titleTop = await open.page.getByRole('dialog').locator('h2').boundingBox();
        expect(titleTop?.y).toBeGreaterThanOrEqual(0);
      }
      expect(await open.axeViolations()).toEqual([]);
      await open.page.keyboard.press('Escape');
      await open.page.getByRole('dialog').waitFor({ state: 'detached' });
    });

    it('all of it goes with the keys alone: each named, each seen to have the focus, which comes back from a sheet', async () => {
      const { page } = open;
      await open.show('gentle');
      sent();
      const focused = () =>
        page.evaluate(() => {
          const { activeElement: at } = document;
          const { outlineStyle, outlineWidth } = getComputedStyle(at!);
          return {
            name: at!.getAttribute('aria-label') ?? at!.textContent?.trim(),
            isSeen: outlineStyle !== 'none' && parseFloat(outlineWidth) >= 2,
          };
        });
      const names: (string | undefined)[] = [];
      for (const _ of ['More', 'Stress signs', 'End feed', 'Burped', 'Cues off', 'Sound', 'Dim']) {
        await page.keyboard.press('Tab');
        const { name, isSeen } = await focused();
        expect(isSeen, name).toBe(true);
        names.push(name);
      }
      expect(names).toEqual(['More', 'Stress signs', 'End feed', 'Burped', 'Cues off', 'Sound', 'Dim']);
      await page.keyboard.press('Space');
      await page.waitForSelector('html[data-tone="night"]');
      for (let back = 0; back < 4; back++) await page.keyboard.press('Shift+Tab');
      await page.keyboard.press('Enter');
      await page.getByRole('dialog', { name: 'End this feed?' }).waitFor();
      await page.keyboard.press('Escape');
      await expect.poll(async () => (await focused()).name).toBe('End feed');
      await page.keyboard.press('Enter');
      await page.getByRole('dialog', { name: 'End this feed?' }).waitFor();
      await expect.poll(async () => (await focused()).name).toBe('End feed');
      await page.keyboard.press('Enter');
      // The sheet closes at once; the page goes on when the order has come.
      await page.getByRole('heading', { name: 'After the feed' }).waitFor();
      expect(sent()).toEqual([{ kind: 'dim', on: true }, { kind: 'end-feed' }]);
    });

    it('says when a touch did not get through, and why', async () => {
      await open.show('gentle');
      open.live.refuseWith = new Error('the board is gone');
      await button('Burped').click();
      await open.page.getByText('That did not get through.').waitFor();
      open.live.refuseWith = null;
    });

    it('hands over within a feed, and shows which sleeve it is', async () => {
      await open.show('gentle');
      sent();
      await button('More').click();
      await open.page.getByLabel('Somebody else goes on').fill(' R. ');
      expect(await open.smallTargets()).toEqual([]);
      await button('Hand over').click();
      await open.page.getByText('Handed over.').waitFor();
      await button('More').click();
      await button('Show which sleeve this is').click();
      await open.page.getByText('The sleeve of this page glows now.').waitFor();
      expect(sent()).toEqual([{ kind: 'hand-over', caregiver: 'R.' }, { kind: 'which-sleeve' }]);
      await open.show('waiting');
      await button('More').click();
      expect(await button('Hand over').count()).toBe(0);
    });

    it('reaches the other pages, the language and the unit through More', async () => {
      await open.show('gentle');
      await button('More').click();
      expect(await open.axeViolations()).toEqual([]);
      expect(await open.smallTargets()).toEqual([]);
      await open.page.getByRole('radio', { name: 'Español' }).check();
      await open.page.getByText(WORDS.es.shown.gentle.say, { exact: true }).waitFor();
      await open.page.getByRole('radio', { name: 'English' }).check();
      await open.page.getByRole('link', { name: 'Numbers for builders' }).click();
      await open.page.getByText('23.7 mL/min').waitFor();
      expect(await open.axeViolations()).toEqual([]);
    });
  });
}
