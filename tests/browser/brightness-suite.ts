/** How much brighter the page gets on a cue. */
import { describe, expect, it } from 'vitest';
import type { Showing } from '../../src/feed/live/live-view.ts';
import { cueOf, SHOWN_CUES } from '../../src/pacing/cues/shown-cues.ts';
import { meanLuminance } from './luminance.ts';
import type { OpenPage } from './open-page.ts';

const NIGHT_HOUR = 3;
/** A hundred times is what hurts in the dark; ten leaves room to spare. Own bar, no source. */
const MOST_TIMES = 10;
const CALLS: readonly Showing[] = SHOWN_CUES.filter((shown) => cueOf(shown)?.calls);

export function brightnessSuite(open: OpenPage): void {
  describe.each([
    ['light', false],
    ['dark', false],
    ['light', true],
    ['dark', true],
  ] as const)('at night, on a phone set to %s, dimmed: %s', (colorScheme, dimmed) => {
    it('no cue makes the page much brighter, nor does another page, nor the end of the feed', async () => {
      const [context, page] = await open.phone({ colorScheme }, { hour: NIGHT_HOUR });
      const tab = await context.newPage();
      await open.show('gentle', { dimmed }, page);
      const before = await meanLuminance(page, tab);
      const times: Record<string, number> = {};
      const look = async (name: string) => {
        times[name] = (await meanLuminance(page, tab)) / before;
      };
      for (const showing of CALLS) {
        await open.turn(showing, { dimmed }, page);
        await look(showing);
      }
      await open.show('waiting', { dimmed, feedState: 'ended' }, page);
      await look('ended');
      for (const hash of ['#/feeds', '#/practice', '#/before']) {
        await open.goTo(hash, page);
        await page.getByRole('heading', { level: 1 }).waitFor();
        await look(hash);
      }
      expect(Object.keys(times)).toHaveLength(CALLS.length + 4);
      for (const [name, share] of Object.entries(times))
        expect([name, share < MOST_TIMES]).toEqual([name, true]);
      await context.close();
    });
  });

  it('by day on a light phone a cue does brighten the page, so that it is seen from the corner of the eye', async () => {
    const [context, page] = await open.phone({ colorScheme: 'light' });
    const tab = await context.newPage();
    await open.show('gentle', {}, page);
    const before = await meanLuminance(page, tab);
    await open.turn('tilt-down', {}, page);
    expect((await meanLuminance(page, tab)) / before).toBeGreaterThan(10);
    await context.close();
  });

  it('is dark before the first view has come', async () => {
    const [context, page] = await open.phone({ colorScheme: 'light' }, { hour: NIGHT_HOUR });
    await page.route('**/page.js', (route) => route.abort());
    await open.goTo('#/', page);
    await page.waitForLoadState('load');
    const ground = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
    expect(ground).toBe('rgb(25, 21, 18)');
    await context.close();
  });
}
