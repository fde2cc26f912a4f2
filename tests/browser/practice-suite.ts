/** Two practice feeds side by side. The page's clock is moved by hand. */
import { describe, expect, it } from 'vitest';
import { viewOf } from '../support/fake-live.ts';
import type { OpenPage } from './open-page.ts';

export function practiceSuite(open: OpenPage): void {
  describe('practice', () => {
    it('runs both feeds faster than life, and tells no amount', async () => {
      const [context, page] = await open.phone({ viewport: { width: 1280, height: 800 } });
      open.live.view$.next(viewOf({ showing: 'waiting', feedState: 'none', aheadOfPace: null }));
      await page.clock.install();
      await open.goTo('#/practice', page);
      const lanes = page.locator('.lane');
      await lanes.first().waitFor();
      const says = async () => [
        await open.seen(lanes.nth(0).locator('.lane-says'), page),
        await open.seen(lanes.nth(1).locator('.lane-says'), page),
      ];
      const [left, right] = [await lanes.nth(0).boundingBox(), await lanes.nth(1).boundingBox()];
      expect(left!.y).toBe(right!.y);
      expect(left!.x + left!.width).toBeLessThanOrEqual(right!.x);
      await open.pauseClock(page);
      await page.getByRole('button', { name: 'Begin' }).click();
      await page.clock.runFor(2600);
      expect(await says()).toEqual(['Lower your hand', 'Lower your hand']);
      expect(await lanes.nth(0).getAttribute('data-cue')).toBe('true');
      await page.clock.runFor(4000);
      expect(await says()).toEqual(['over after 1 min', 'No cue now']);
      await page.getByRole('button', { name: 'Hold' }).click();
      await page.clock.runFor(10_000);
      expect((await says())[1]).toBe('No cue now');
      await page.getByRole('button', { name: 'Go on' }).click();
      await page.clock.runFor(12_000);
      expect(await says()).toEqual(['over after 1 min', 'over after 3 min']);
      expect(await open.seen(lanes.nth(1), page)).toContain('2 cues');
      expect(await open.seen('.lanes', page)).not.toMatch(/\d\s*(ml|fl|oz|%)/i);
      await page.getByRole('button', { name: 'From the beginning' }).waitFor();
      await context.close();
    });

    it('has room on a phone', async () => {
      open.live.view$.next(viewOf({ showing: 'waiting', feedState: 'none', aheadOfPace: null }));
      await open.goTo('#/practice');
      await open.page.locator('.lane').first().waitFor();
      expect(await open.axeViolations()).toEqual([]);
      expect(await open.smallTargets()).toEqual([]);
      expect(await open.scrollsSideways()).toBe(false);
    });

    it('says after a run with a doll what was done', async () => {
      const { page } = open;
      await open.show('gentle', { simulated: false, practice: true });
      open.live.view$.next(
        viewOf({ showing: 'waiting', feedState: 'ended', aheadOfPace: null, practice: true }),
      );
      await page.getByRole('link', { name: 'See what you did' }).click();
      await page.getByRole('heading', { name: 'What you did' }).waitFor();
      await page.getByText('Nearly level for most of the time.').waitFor();
      expect(await open.axeViolations()).toEqual([]);
    });

    it('marks a live feed with a doll as practice', async () => {
      await open.show('gentle', { simulated: false, practice: true });
      expect(await open.seen('.simulated')).toBe('Practice: doll and water');
    });
  });
}
