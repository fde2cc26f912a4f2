/** What the live page says and shows in each state. */
import { describe, expect, it } from 'vitest';
import type { Showing } from '../../src/feed/live/live-view.ts';
import { cueOf, SHOWN_CUES } from '../../src/pacing/cues/shown-cues.ts';
import { WORDS } from '../../src/pacing/cues/words.ts';
import { becauseText } from '../../src/pacing/cues/words-because.ts';
import { contrastRatio } from '../support/contrast.ts';
import { PAGE_STATES, SHOWINGS } from '../support/page-states.ts';
import type { OpenPage } from './open-page.ts';

/** An amount or a share, however written. */
const AMOUNT = /\d[\d.,]*\s*(ml|fl\.? ?oz|oz|ounces?|%|percent|mL\/min)|[¼½¾]/i;
/**
 * Least size of a cue's big words, CSS px, for two meters: 20/60 sight reads letters of 15 minutes of arc (the Snellen fraction
 * puts 20/20 at 5), 8.7 mm at 2 m; a phone's 360 px are about 66 mm, capitals about 0.72 of the font's size (both from memory).
 */
const LEAST_CUE_FONT_PX = Math.floor(8.7 / (66 / 360) / 0.72);
/** The view's numbers, as a careless page would print them. */
const TELLTALES = /61\.?4?|23\.7|28\.6|97(\.3)?/;

/** States that ask for something now: said at once, in the largest letters. */
const CALLS: readonly Showing[] = SHOWN_CUES.filter((shown) => cueOf(shown)?.calls);

export function liveSuite(open: OpenPage): void {
  describe.each(SHOWINGS)('in the state %s', (showing) => {
    it('has its words and its picture, says them to ears, tells no amount, and axe finds nothing', async () => {
      await open.turn(showing);
      const { page } = open;
      const words = WORDS.en.shown[showing];
      expect(await open.seen('.glance')).toBe(words.glance);
      expect(await page.locator('.say').isVisible()).toBe(true);
      await expect.poll(() => page.title()).toBe(`${words.glance} · Ebbline`);

      const picture = page.locator('svg.picture');
      if (showing === 'gentle') expect(await picture.count()).toBe(0);
      else {
        expect(await picture.getAttribute('data-picture')).toBe(showing);
        const box = await picture.boundingBox();
        expect(box?.height).toBeGreaterThanOrEqual(140);
      }

      const isCue = CALLS.includes(showing);
      const size = await page.locator('.glance').evaluate((element) => getComputedStyle(element).fontSize);
      if (isCue) expect(Number.parseFloat(size)).toBeGreaterThanOrEqual(LEAST_CUE_FONT_PX);
      const loud = page.locator(`[aria-live="${isCue ? 'assertive' : 'polite'}"]`);
      expect(await loud.textContent()).toContain(words.glance);

      const everything = await page.content();
      const visible = await open.seen();
      expect(visible).not.toMatch(AMOUNT);
      expect(visible).not.toMatch(TELLTALES);
      expect(everything).not.toContain(becauseText(PAGE_STATES['tilt-down'].because!, 'en'));

      if (showing === 'offer-stop') expect(visible).toContain('Baby does not need to finish.');

      expect(await open.axeViolations(page, { contrast7: true })).toEqual([]);
      expect(await open.smallTargets()).toEqual([]);
      expect(await open.scrollsSideways()).toBe(false);
    });
  });

  it.each(['tilt-down', 'gentle', 'cannot-tell', 'waiting', 'offer-stop', 'guidance-off'] as const)(
    'dimmed at night, %s has text of 7:1 too (WCAG 2.2, 1.4.6, by axe)',
    async (showing) => {
      await open.show(showing, { dimmed: true, notices: ['battery-low'] });
      await open.page.waitForSelector('html[data-tone="night"]');
      expect(await open.axeViolations(open.page, { contrast7: true })).toEqual([]);
    },
  );

  // WCAG 2.2, 1.4.6: 7:1, by its formula; here on what the browser computed.
  it.each([
    ['paper', { dimmed: false }],
    ['night', { dimmed: true }],
  ] as const)('the words of a cue have a contrast of at least 7:1 on %s', async (tone, part) => {
    await open.show('tilt-down', part);
    const { page } = open;
    await page.waitForSelector(`html[data-tone="${tone}"]`);
    await page.evaluate(() => Promise.all(document.getAnimations().map((animation) => animation.finish())));
    const ground = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
    for (const selector of ['.glance', '.say']) {
      const ink = await page.locator(selector).evaluate((element) => getComputedStyle(element).color);
      expect(contrastRatio(ink, ground)).toBeGreaterThanOrEqual(7);
    }
  });

  it('draws the line as far as the pace is ahead, up to the mark and no further', async () => {
    const { page } = open;
    const share = async () => {
      await page.waitForFunction(() =>
        document
          .getAnimations()
          .every((one) => one.playState !== 'running' || !('transitionProperty' in one)),
      );
      const line = await page.locator('.pace-line').boundingBox();
      const mark = await page.locator('.pace-mark').boundingBox();
      return line!.width / (mark!.x + mark!.width / 2);
    };
    await open.show('gentle', { aheadOfPace: 0.5 });
    expect(await share()).toBeCloseTo(0.5, 1);
    await open.show('gentle', { aheadOfPace: 3 });
    expect(await share()).toBeCloseTo(1, 1);
    await open.show('gentle', { aheadOfPace: null });
    expect(await page.locator('.pace').getAttribute('data-line')).toBe('none');
    await open.show('cannot-tell', { aheadOfPace: 0.9 });
    expect(await page.locator('.pace').getAttribute('data-line')).toBe('broken');
    expect(await page.locator('.pace-line').count()).toBe(0);
  });

  it('has a quiet clock in whole minutes since the first suck, and none when the sleeve is not heard or nothing runs', async () => {
    const clock = open.page.getByRole('timer', { name: 'Since the first suck' });
    await open.show('gentle', { feedElapsedSec: 59 });
    expect(await clock.textContent()).toBe('under 1 min');
    await open.turn('gentle', { feedElapsedSec: 1199 });
    await expect.poll(() => clock.textContent()).toBe('19 min');
    await open.show('waiting', { feedElapsedSec: 1199 });
    expect(await clock.count()).toBe(0);
  });

  it('marks a simulated sleeve, and says trouble that does not stop the feed', async () => {
    await open.show('gentle', { notice: 'The disk is full. Make room; the feed goes on.' });
    expect(await open.seen('.simulated')).toContain('Simulated');
    expect(await open.page.getByRole('status').textContent()).toContain('The disk is full.');
    await open.show('gentle', { simulated: false });
    expect(await open.page.locator('.simulated').count()).toBe(0);
  });

  it('says before a feed that the calibration is doubtful, and leaves the picture its room', async () => {
    await open.show('waiting', { calibration: 'other-bottle' });
    expect(await open.page.getByRole('status').textContent()).toContain('Use that bottle, or calibrate');
    expect(await open.axeViolations()).toEqual([]);
    const box = await open.page.locator('.picture').boundingBox();
    expect(box?.height).toBeGreaterThanOrEqual(80);
  });

  it('says what is to be known of baby and sleeve, but nothing beside a cue', async () => {
    const status = () => open.page.getByRole('status').textContent();
    await open.show('waiting', { notices: ['cues-off', 'quieter'] });
    expect(await status()).toContain(WORDS.en.screening.cuesOff);
    expect(await status()).toContain(WORDS.en.quiet.quieter);
    expect(await open.axeViolations()).toEqual([]);
    expect((await open.page.locator('.glance').boundingBox())!.y).toBeGreaterThan(0);
    await open.turn('gentle', { notices: ['cues-off', 'quieter'] });
    expect(await status()).toBe(WORDS.en.screening.cuesOff);
    await open.turn('burp', { notices: ['cues-off', 'quieter'] });
    expect(await status()).toBe('');
    await open.turn('tilt-down', { notices: ['battery-low', 'cues-off'] });
    expect(await status()).toContain('Battery low: charge the sleeve after this feed.');
    expect(await open.scrollsSideways()).toBe(false);
  });

  it('says why a baby that was never asked about gets no cues, and leaves the words their room', async () => {
    const status = () => open.page.getByRole('status').textContent();
    await open.show('waiting', { notices: ['cues-off', 'not-screened'] });
    expect(await status()).toContain(WORDS.en.screening.notScreened);
    expect((await open.page.locator('.glance').boundingBox())!.y).toBeGreaterThan(0);
    await open.turn('gentle', { notices: ['not-screened'], aheadOfPace: null });
    expect(await status()).toBe(WORDS.en.screening.notScreened);
    expect(await open.page.locator('.pace-line').count()).toBe(0);
    expect(await open.axeViolations()).toEqual([]);
    expect(await open.scrollsSideways()).toBe(false);
    await open.turn('gentle', { notices: ['cues-next-feed'] });
    expect(await status()).toContain('they come with the next one');
  });

  it('speaks Spanish where the device does', async () => {
    const [context, page] = await open.phone({ locale: 'es-MX' });
    await open.show('tilt-down', {}, page);
    expect(await open.seen('.glance', page)).toBe(WORDS.es.shown['tilt-down'].glance);
    expect(await page.locator('html').getAttribute('lang')).toBe('es');
    expect(await open.scrollsSideways(page)).toBe(false);
    await context.close();
  });
}
