/** States told apart by shape alone; motion; small and wide screens. */
import { describe, expect, it } from 'vitest';
import type { Showing } from '../../src/feed/live/live-view.ts';
import { SHOWINGS } from '../support/page-states.ts';
import type { OpenPage } from './open-page.ts';

/** A thumbnail is this many pixels; a pixel differs when its gray does by a quarter of the range. */
const THUMB = { width: 45, height: 92 } as const;
const STEP = 64;
/** Two states differ when this many pixels do: 1 % of the thumbnail, our own bar. */
const LEAST_PIXELS = 41;

export function lookSuite(open: OpenPage): void {
  describe('look', () => {
    it('every state is told from every other by a gray thumbnail without its words', async () => {
      const shots: [Showing, string][] = [];
      // Line and ground are the same for all, so that only the picture differs.
      const same = { dimmed: true, aheadOfPace: 0.3, feedState: 'open', guidanceOff: false } as const;
      for (const showing of SHOWINGS) {
        await open.turn(showing, same);
        await open.page.evaluate(() => {
          for (const words of document.querySelectorAll<HTMLElement>('.stage-words, .stage-button'))
            words.style.visibility = 'hidden';
        });
        const png = await open.page.screenshot({ animations: 'disabled' });
        shots.push([showing, png.toString('base64')]);
      }
      const tab = await open.context.newPage();
      const thumbs = await tab.evaluate(
        async ({ pngs, width, height }) => {
          const canvas = new OffscreenCanvas(width, height);
          const pen = canvas.getContext('2d')!;
          pen.filter = 'grayscale(1)';
          pen.imageSmoothingQuality = 'high';
          const grays: number[][] = [];
          for (const png of pngs) {
            const blob = await (await fetch(`data:image/png;base64,${png}`)).blob();
            pen.drawImage(await createImageBitmap(blob), 0, 0, width, height);
            const { data } = pen.getImageData(0, 0, width, height);
            grays.push(Array.from({ length: width * height }, (_, index) => data[index * 4]!));
          }
          return grays;
        },
        { pngs: shots.map(([, png]) => png), ...THUMB },
      );
      await tab.close();
      for (let one = 0; one < shots.length; one++) {
        for (let other = 0; other < one; other++) {
          const different = thumbs[one]!.filter(
            (gray, index) => Math.abs(gray - thumbs[other]![index]!) >= STEP / 2,
          );
          const pair = `${shots[one]![0]} / ${shots[other]![0]}`;
          expect([pair, different.length >= LEAST_PIXELS]).toEqual([pair, true]);
        }
      }
    });

    it('nothing flashes: what moves repeats at most three times a second, and stops (WCAG 2.3.1, from memory)', async () => {
      const [context, page] = await open.phone({ reducedMotion: 'no-preference' });
      await open.show('tilt-down', {}, page);
      const timings = await page.evaluate(() =>
        document.getAnimations().map((animation) => {
          const timing = animation.effect!.getComputedTiming();
          return { periodMs: Number(timing.duration), times: timing.iterations ?? 1 };
        }),
      );
      expect(timings.some(({ times }) => times > 1)).toBe(true);
      for (const { periodMs, times } of timings) {
        expect(times).toBeLessThanOrEqual(5);
        if (times > 1) expect(periodMs).toBeGreaterThanOrEqual(1000 / 3);
      }
      await context.close();
    });

    it('stands still where less motion is asked for', async () => {
      const [context, page] = await open.phone({ reducedMotion: 'reduce' });
      await open.show('tilt-down', {}, page);
      expect(await page.evaluate(() => document.getAnimations().length)).toBe(0);
      await context.close();
    });

    it('keeps every word whole on a small phone, in Spanish, whose words are longer', async () => {
      const viewport = { width: 320, height: 568 };
      const [context, page] = await open.phone({ viewport, locale: 'es-MX' });
      for (const showing of SHOWINGS) {
        await open.turn(showing, {}, page);
        const wide = await page.evaluate(() =>
          ['.glance', '.say', '.picture']
            .map((selector) => document.querySelector<HTMLElement>(selector))
            .filter((part) => part !== null)
            .filter(
              (part) =>
                part.scrollWidth > part.clientWidth || part.getBoundingClientRect().right > innerWidth - 15,
            )
            .map((part) => part.getAttribute('class')),
        );
        expect([showing, wide]).toEqual([showing, []]);
      }
      await context.close();
    });

    it.each([
      ['a small phone', { width: 320, height: 568 }],
      ['a phone on its side', { width: 740, height: 360 }],
      ['a service', { width: 1280, height: 800 }],
    ])('keeps words, picture and touches apart and inside on %s', async (_name, viewport) => {
      const [context, page] = await open.phone({ viewport });
      for (const showing of ['tilt-down', 'offer-stop', 'no-guidance'] as const) {
        await open.show(showing, {}, page);
        expect(await open.scrollsSideways(page)).toBe(false);
        const boxes = await page.evaluate(() =>
          ['.picture', '.stage-words', '.touches'].map((selector) => {
            const { left, top, right, bottom } = document.querySelector(selector)!.getBoundingClientRect();
            return { selector, left, top, right, bottom };
          }),
        );
        for (const box of boxes) {
          expect(box.top, box.selector).toBeGreaterThanOrEqual(0);
          expect(box.left, box.selector).toBeGreaterThanOrEqual(0);
          expect(box.right, box.selector).toBeLessThanOrEqual(viewport.width);
          expect(box.bottom, box.selector).toBeLessThanOrEqual(viewport.height);
        }
        const [picture, words, touches] = boxes as [(typeof boxes)[0], (typeof boxes)[0], (typeof boxes)[0]];
        for (const [a, b] of [
          [picture, words],
          [words, touches],
          [picture, touches],
        ] as const) {
          const apart = a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
          expect([a.selector, b.selector, apart]).toEqual([a.selector, b.selector, true]);
        }
      }
      await context.close();
    });
  });
}
