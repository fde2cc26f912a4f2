/**
 * How much brighter the page gets on a cue: mean relative luminance of all its pixels, by the definition in WCAG 2.2 ("relative luminance"), before and after.
 */
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import type { Showing } from '../../src/feed/live/live-view.ts';
import { cueOf, SHOWN_CUES } from '../../src/pacing/cues/shown-cues.ts';
import type { OpenPage } from './open-page.ts';

const NIGHT_HOUR = 3;
/** A hundred times is what hurts in the dark; ten leaves room to spare. Own bar, no source. */
const MOST_TIMES = 10;
const CALLS: readonly Showing[] = SHOWN_CUES.filter((shown) => cueOf(shown)?.calls);

/** @returns cd/m² of the page as a share of its white */
async function meanLuminance(page: Page, tab: Page): Promise<number> {
  const png = (await page.screenshot({ animations: 'disabled' })).toString('base64');
  return tab.evaluate(async (encoded) => {
    const blob = await (await fetch(`data:image/png;base64,${encoded}`)).blob();
    const picture = await createImageBitmap(blob);
    const pen = new OffscreenCanvas(picture.width, picture.height).getContext('2d')!;
    pen.drawImage(picture, 0, 0);
    const { data } = pen.getImageData(0, 0, picture.width, picture.height);
    const linear = Array.from({ length: 256 }, (_, level) => {
      const share = level / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    let sum = 0;
    for (let i = 0; i < data.length; i += 4)
      sum += 0.2126 * linear[data[i]!]! + 0.7152 * linear[data[i + 1]!]! + 0.0722 * linear[data[i + 2]!]!;
    return sum / (data.length / 4);
  }, png);
}

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
