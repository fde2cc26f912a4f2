/** Safety lines, at every size and in every language. */
import { describe, expect, it } from 'vitest';
import { cueOf, SHOWN_CUES } from '../../src/pacing/cues/shown-cues.ts';
import { LANGUAGES, WORDS } from '../../src/pacing/cues/words.ts';
import type { OpenPage } from './open-page.ts';

const SIZES = [
  { width: 320, height: 568 },
  { width: 360, height: 640 },
  { width: 360, height: 740 },
  { width: 412, height: 915 },
  { width: 667, height: 375 },
  { width: 740, height: 360 },
  { width: 768, height: 1024 },
  { width: 1280, height: 800 },
] as const;
const LOCALES = { en: 'en-US', es: 'es-MX' } as const;
const SAFETY = SHOWN_CUES.filter((shown) => cueOf(shown)?.moreIsSafety);

export function safetySuite(open: OpenPage): void {
  describe('a safety line', () => {
    it('is what tells that a baby need not finish, and what sends people to a clinician', () => {
      expect(SAFETY).toEqual(['offer-stop', 'asleep-early']);
      expect(WORDS.en.shown['offer-stop'].more).toMatch(/^Baby does not need to finish\./);
      expect(WORDS.es.shown['offer-stop'].more).toMatch(/^No hace falta que termine\./);
    });

    it.each(LANGUAGES.flatMap((language) => SIZES.map((size) => ({ language, ...size }))))(
      'is whole and uncovered at $width × $height in $language, with a low battery said below it',
      async ({ language, width, height }) => {
        const [context, page] = await open.phone({
          viewport: { width, height },
          locale: LOCALES[language],
        });
        for (const showing of SAFETY) {
          for (const notices of [[], ['battery-low']] as const) {
            await open.show(showing, { notices }, page);
            expect(await open.seen('.more', page)).toBe(WORDS[language].shown[showing].more);
            const faults = await page.evaluate(() => {
              const bad: string[] = [];
              for (const selector of ['.glance', '.say', '.more']) {
                const text = document.querySelector<HTMLElement>(selector)!;
                const range = document.createRange();
                range.selectNodeContents(text);
                for (const { left, top, right, bottom } of range.getClientRects()) {
                  if (left < 0 || top < 0 || right > innerWidth || bottom > innerHeight)
                    bad.push(`${selector} out of the window at ${Math.round(top)}`);
                  const over = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
                  if (over !== text) bad.push(`${selector} under ${over?.outerHTML.slice(0, 60)}`);
                }
              }
              return bad;
            });
            expect([showing, notices, faults]).toEqual([showing, notices, []]);
          }
          const heard = await page.locator('[aria-live="assertive"]').textContent();
          expect(heard).toContain(WORDS[language].shown[showing].more);
        }
        await context.close();
      },
    );
  });
}
