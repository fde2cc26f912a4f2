/** When nobody speaks to the page. The page's clock is moved by hand; nothing is slept through. */
import { describe, expect, it, onTestFinished } from 'vitest';
import { CALM_MS, SILENCE_MS } from '../../src/web/live/guard.ts';
import type { OpenPage } from './open-page.ts';

/** The page looks for silence this often. */
const LOOK_MS = 100;

export function silenceSuite(open: OpenPage): void {
  describe('silence', () => {
    it('shows no guidance one second after the last view, and no last number', async () => {
      const [context, page] = await open.phone();
      const shown = () => page.locator('.stage').getAttribute('data-showing');
      await open.showStill('tilt-down', page);
      expect(await page.locator('.pace').getAttribute('data-line')).toBe('drawn');
      open.stopBeating();
      onTestFinished(() => open.startBeating());
      open.live.show({ showing: 'burp' });
      await expect.poll(shown).toBe('burp');

      await page.clock.runFor(SILENCE_MS - LOOK_MS);
      expect(await shown()).toBe('burp');
      await page.clock.runFor(2 * LOOK_MS);
      expect(await shown()).toBe('no-guidance');
      expect(await open.seen('.say', page)).toContain('no longer hears Ebbline');
      expect(await page.locator('.pace').getAttribute('data-line')).toBe('none');
      expect(await open.seen('body', page)).not.toContain('Burp\n');

      open.live.show({ showing: 'gentle' });
      await page.clock.runFor(LOOK_MS);
      expect(await shown()).toBe('no-guidance');
      await context.close();
    });

    it('says so when the program is gone, and is back when it is back', async () => {
      const [context, page] = await open.phone();
      await page.clock.install();
      await open.show('gentle', {}, page);
      const port = Number(new URL(open.server.url).port);
      await open.server.close();
      await page.waitForSelector('.stage[data-showing="no-guidance"]');
      await page.getByRole('button', { name: 'Burped', exact: true }).click();
      await page.getByText('That did not get through.').waitFor();
      await open.serve(port);
      // The page's clock skips the five calm seconds; the browser's own wait of a second before it reconnects is real.
      await page.clock.runFor(CALM_MS);
      await page.waitForSelector('.stage[data-showing="gentle"]');
      await context.close();
    });
  });
}
