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
      await page.getByRole('button', { name: 'Can do all but share and delete' }).click();
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
  });
}
