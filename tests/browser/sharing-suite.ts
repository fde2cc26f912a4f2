/** From the computer's page to a phone in the home network, and out again. */
import { describe, expect, it } from 'vitest';
import { viewOf } from '../support/fake-live.ts';
import type { OpenPage } from './open-page.ts';

export function sharingSuite(open: OpenPage): void {
  describe('sharing', () => {
    it('lets a phone in by one touch, and puts it out from the computer', async () => {
      const { page } = open;
      open.live.view$.next(viewOf({ showing: 'burp' }));
      await open.goTo('#/sharing');
      await page.getByText('There is no code at the moment.').waitFor();
      await page.getByRole('button', { name: 'can do all but share and delete' }).click();
      await page.getByRole('img', { name: 'Code for one device' }).waitFor();
      expect(await open.axeViolations()).toEqual([]);
      expect(await open.smallTargets()).toEqual([]);
      expect(await open.scrollsSideways()).toBe(false);

      const [context, phone] = await open.phone();
      const { address } = open.door.invitation!;
      await phone.goto(address);
      await phone.getByRole('heading', { name: 'Show the feed here?' }).waitFor();
      expect(await open.axeViolations(phone)).toEqual([]);
      expect(await open.smallTargets(phone)).toEqual([]);
      expect(open.door.devices).toEqual([]);
      await phone.getByRole('button', { name: 'Use this device' }).click();
      await phone.waitForSelector('.stage[data-showing="burp"]');
      expect(phone.url()).not.toContain('join');
      expect(await phone.evaluate(() => document.cookie)).toBe('');
      await phone.getByRole('button', { name: 'More' }).click();
      expect(await phone.getByRole('link', { name: 'Share in the home' }).count()).toBe(0);

      await page.getByRole('button', { name: 'Put out device 1' }).click();
      await phone.waitForSelector('.stage[data-showing="no-guidance"]');

      const [other, late] = await open.phone({ locale: 'es-MX' });
      await late.goto(address);
      await late.getByRole('button', { name: 'Usar este aparato' }).click();
      await late.getByText('Este código ya se usó o venció.').waitFor();
      await context.close();
      await other.close();
    });

    it.each([
      ['watch', [], ['Now', 'Feeds', 'More']],
      ['help', ['Burped', 'Cues off', 'Sound', 'Dim'], ['Now', 'Feeds', 'More']],
      [
        'owner',
        ['End feed', 'Burped', 'Cues off', 'Sound', 'Dim'],
        ['Now', 'Before a feed', 'Feeds', 'More'],
      ],
    ] as const)(
      'a device let in as %s is offered what it may do, and asks for nothing that is refused',
      async (right, touches, ways) => {
        const refusals: string[] = [];
        const [context, phone] = await open.phone();
        phone.on('response', (response) => {
          if (response.status() === 403) refusals.push(response.url());
        });
        await phone.goto(open.door.invite(right));
        open.live.view$.next(viewOf({ showing: 'gentle' }));
        await phone.getByRole('button', { name: 'Use this device' }).click();
        await phone.waitForSelector('.stage[data-showing="gentle"]');
        const named = (place: string) => phone.locator(place).allInnerTexts();
        await expect.poll(() => named('.touches button, .touches a')).toEqual(['Stress signs', ...touches]);
        expect(await open.axeViolations(phone, { contrast7: true })).toEqual([]);
        open.live.view$.next(viewOf({ showing: 'cues-withheld' }));
        await phone.waitForSelector('.stage[data-showing="cues-withheld"]');
        const showCues = phone.getByRole('button', { name: 'Show the cues' });
        expect(await showCues.count()).toBe(right === 'watch' ? 0 : 1);
        await phone.getByRole('button', { name: 'More' }).click();
        const more = await named('dialog a, dialog button, dialog label');
        expect(more.includes('Somebody else goes on')).toBe(right !== 'watch');
        expect(more.includes('Show which sleeve this is')).toBe(right !== 'watch');
        expect(more.includes('Pack the bottles')).toBe(right === 'owner');
        expect(more.includes('What is kept')).toBe(right === 'owner');
        await phone.keyboard.press('Escape');

        const at = new URL(phone.url()).origin;
        for (const hash of ['#/before', '#/baby', '#/write-feed']) {
          await phone.goto(`${at}/${hash}`);
          await phone.getByRole('heading', { level: 1 }).waitFor();
          await expect
            .poll(() => phone.getByRole('heading', { name: 'Not on this device' }).count())
            .toBe(right === 'owner' ? 0 : 1);
        }
        expect(await named('.ways a, .ways button')).toEqual(ways);
        for (const [hash, forms] of [
          ['#/feeds', 'a[href="#/write-feed"]'],
          ['#/days/2026-11-24', 'a[href^="#/write-feed"]'],
          ['#/feeds/feed-1', '.beside .side-by-side'],
        ] as const) {
          await phone.goto(`${at}/${hash}`);
          await phone
            .getByRole('heading', { name: /November|Feeds/ })
            .first()
            .waitFor();
          await expect.poll(() => phone.locator(forms).count()).toBe(right === 'owner' ? 1 : 0);
        }
        expect(await phone.locator('.beside textarea').count()).toBe(right === 'watch' ? 0 : 1);
        expect(refusals).toEqual([]);
        await context.close();
      },
    );
  });
}
