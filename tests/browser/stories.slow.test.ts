/**
 * Stories of a feed from the sleeve's bytes to the page: phone and tablet, both languages, by day and at night. Each moment leaves a picture in
 * tests/browser/stories.tmp (not kept in the repository), to be looked at by a person.
 */
import { mkdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LiveView, Showing } from '../../src/feed/live/live-view.ts';
import { LANGUAGES, type Language, WORDS } from '../../src/pacing/cues/words.ts';
import { guardStep, openGuard } from '../../src/web/live/guard.ts';
import { stageWords } from '../../src/web/live/stage-words.ts';
import { TEXTS } from '../../src/web/words/texts.ts';
import { hasBrowser, noBrowserReason, PHONE } from '../support/browser.ts';
import { STORIES } from '../support/story-feeds.ts';
import type { Moment, Story } from '../support/story-tools.ts';
import { OpenPage } from './open-page.ts';

const PICTURES = fileURLToPath(new URL('stories.tmp', import.meta.url));
const DEVICES = { phone: PHONE, tablet: { width: 820, height: 1180 } } as const;
const LOCALES = { en: 'en-US', es: 'es-MX' } as const;
const HOURS = { day: 11, night: 3 } as const;
const COMBINATIONS = (Object.keys(DEVICES) as (keyof typeof DEVICES)[]).flatMap((device) =>
  LANGUAGES.flatMap((language) =>
    (Object.keys(HOURS) as (keyof typeof HOURS)[]).map((time) => ({ device, language, time })),
  ),
);

/** What each story must come to, and what it must never say. */
const COMES_TO: Record<string, { says: Showing[]; never: Showing[] }> = {
  'newborn-unscreened': {
    says: ['waiting', 'held-steeply', 'gentle'],
    never: ['tilt-down', 'keep-low', 'nipple-out', 'offer-stop', 'hole-dry', 'lower-is-fine'],
  },
  'poured-unheeded': {
    says: ['held-steeply', 'tilt-down', 'keep-low', 'nipple-out', 'last-burp'],
    never: ['hole-dry', 'hunger-again'],
  },
  'poured-heeded': { says: ['tilt-down', 'gentle', 'burp'], never: ['nipple-out'] },
  'let-down': { says: ['gentle', 'burp'], never: ['keep-low', 'nipple-out'] },
  'sleepy-baby': { says: ['offer-stop', 'waiting'], never: ['tilt-down', 'hole-dry'] },
  refusal: { says: ['offer-stop'], never: ['tilt-down', 'hole-dry'] },
  'top-up': { says: ['gentle'], never: ['tilt-down', 'last-burp'] },
  spill: { says: ['gentle'], never: ['tilt-down', 'last-burp'] },
  unplugged: { says: ['no-guidance', 'gentle'], never: ['tilt-down'] },
  'second-bottle': { says: ['gentle', 'cannot-tell'], never: ['tilt-down', 'last-burp'] },
  'wrong-calibration': { says: ['waiting', 'gentle'], never: [] },
  doubt: { says: ['gentle', 'cannot-tell'], never: ['tilt-down', 'last-burp'] },
  'two-babies': { says: ['waiting', 'gentle'], never: ['tilt-down'] },
};

const wordsFor = (view: LiveView, language: Language) =>
  stageWords(guardStep(openGuard(0), view, 0).shown, WORDS[language], TEXTS[language]);

describe.skipIf(!hasBrowser)(`the stories${noBrowserReason}`, () => {
  const open = new OpenPage();
  const stories: Record<string, Story> = {};

  beforeAll(async () => {
    mkdirSync(PICTURES, { recursive: true });
    for (const [name, play] of Object.entries(STORIES)) stories[name] = await play();
    await open.open();
  });
  afterAll(() => open.close());

  it.each(Object.keys(STORIES))(
    '%s comes to what it is about, and to nothing that would be wrong',
    (name) => {
      const { says, never } = COMES_TO[name]!;
      const { moments, shown } = stories[name]!;
      expect([...new Set(moments.map(({ view }) => view.showing))]).toEqual(says);
      for (const showing of never) expect(shown).not.toContain(showing);
    },
  );

  it('an unscreened newborn is told why there are no cues; with two babies it is asked whose feed it is', () => {
    for (const { view } of stories['newborn-unscreened']!.moments)
      expect(view.notices).toEqual(expect.arrayContaining(['not-screened']));
    const whose = stories['two-babies']!.moments.map(({ view }) => view.notices?.includes('whose-feed'));
    expect(whose).toEqual([true, false, true]);
  });

  it('a calibration that is not to be trusted is told before, in and after the feed; a silent cell while it is silent', () => {
    const doubts = stories['wrong-calibration']!.moments.map(({ view }) => view.calibration);
    expect(doubts).toEqual(['zero-far', 'zero-far', 'zero-far']);
    const [silent, , back] = stories.doubt!.moments;
    expect(silent!.view.notices).toContain('check-sleeve');
    expect(back!.view.notices).not.toContain('check-sleeve');
  });

  it.each(COMBINATIONS)(
    'on a $device in $language by $time: the words are there whole, axe finds nothing, text has 7:1',
    async ({ device, language, time }) => {
      const [context, page] = await open.phone(
        { viewport: DEVICES[device], locale: LOCALES[language] },
        { hour: HOURS[time] },
      );
      const found: string[] = [];
      for (const [name, { moments }] of Object.entries(stories)) {
        for (const moment of moments) {
          const place = `${name}-${moment.name}`;
          await lookAt(page, moment, { language, dimmed: time === 'night' });
          await page.screenshot({
            path: `${PICTURES}/${place}-${device}-${language}-${time}.png`,
            animations: 'disabled',
          });
          const faults = [
            ...(await open.axeViolations(page, { contrast7: true })),
            ...(await cutWords(page)),
          ];
          if (await open.scrollsSideways(page)) faults.push('scrolls sideways');
          found.push(...faults.map((fault) => `${place}: ${fault}`));
        }
      }
      expect(found).toEqual([]);
      await context.close();
    },
  );

  async function lookAt(
    page: Page,
    { view }: Moment,
    { language, dimmed }: { language: Language; dimmed: boolean },
  ): Promise<void> {
    const { feedId: _, ...told } = view;
    await open.show(view.showing, { ...told, feedId: 'feed-1', dimmed }, page);
    const words = wordsFor(view, language);
    expect(await open.seen('.glance', page)).toBe(words.glance);
    expect(await open.seen('.say', page)).toBe(words.say);
    const { cuesOff, notScreened } = WORDS[language].screening;
    const status = await page.getByRole('status').textContent();
    if (view.notices?.includes('not-screened'))
      expect(status).toContain(view.feedState === 'open' ? cuesOff : notScreened);
  }

  /** @returns words of the stage that are outside of the window or covered */
  const cutWords = (page: Page): Promise<string[]> =>
    page.evaluate(() =>
      ['.glance', '.say', '.more', '.note p'].flatMap((selector) =>
        [...document.querySelectorAll<HTMLElement>(selector)]
          .filter((text) => text.checkVisibility())
          .flatMap((text) => {
            const range = document.createRange();
            range.selectNodeContents(text);
            return [...range.getClientRects()]
              .filter(({ left, top, right, bottom }) => {
                const over = document.elementFromPoint((left + right) / 2, (top + bottom) / 2);
                const isOut = left < 0 || top < 0 || right > innerWidth || bottom > innerHeight;
                return isOut || !(over && text.contains(over));
              })
              .map(({ top }) => `${selector} is cut at ${Math.round(top)}`);
          }),
      ),
    );
});
