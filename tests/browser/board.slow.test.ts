/** The board of a room in a real browser, at the sizes of a tablet and a phone. */
import type { BrowserContextOptions, Page } from 'playwright-core';
import { BehaviorSubject } from 'rxjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keysOf } from '../../src/base/typed.ts';
import { SHOWN_CUES } from '../../src/pacing/cues/shown-cues.ts';
import { WORDS } from '../../src/pacing/cues/words.ts';
import { CALIBRATION_DOUBTS } from '../../src/pacing/cues/words-calibration.ts';
import type { PageServer } from '../../src/server/server.ts';
import { createBoardServer } from '../../src/server/ward/board-server.ts';
import type { BoardCot } from '../../src/ward/board/board-view.ts';
import { needOf } from '../../src/ward/board/needs.ts';
import { boardCot, boardView, CALM_COTS, LOOK_COTS } from '../support/board-cots.ts';
import {
  builtPage,
  firstBytes,
  freshPage,
  hasBrowser,
  launchBrowser,
  noBrowserReason,
  PHONE,
} from '../support/browser.ts';
import { meanLuminance } from './luminance.ts';
import { isSound, seen, violationsOf } from './served-page.ts';

const TABLET = { width: 1024, height: 768 } as const;
/** As often as the real board, so that the page does not take it for gone. */
const BEAT_MS = 500;

const calling: BoardCot[] = SHOWN_CUES.map((showing, i) =>
  boardCot({
    sleeve: i + 1,
    cot: `A${i + 1}`,
    showing,
    need: needOf({ showing, shownForSec: 0, isFeeding: true, isReady: false }),
  }),
);
const states: BoardCot[] = [...LOOK_COTS, ...CALM_COTS];
/** Each doubt about a calibration in each kind of card: large, with a drawing only, and small. */
const doubted: BoardCot[] = keysOf(CALIBRATION_DOUBTS.en).flatMap((calibration, i) => [
  boardCot({ sleeve: 100 + i, cot: `C${i}`, need: 'cue', showing: 'tilt-down', calibration }),
  boardCot({ sleeve: 110 + i, cot: `D${i}`, need: 'hint', showing: 'lower-is-fine', calibration }),
  boardCot({ sleeve: 120 + i, cot: `E${i}`, need: 'quiet', calibration }),
]);

const LISTED = {
  code: 'pace-1',
  title: 'Cues shown or withheld',
  participants: 2,
  sessions: 3,
  isClosed: false,
};
const SESSION = { participant: 'F01', arm: 'coded-1', lengthMin: 12.5, intakeMl: 61, goodPercent: 98 };

describe.skipIf(!hasBrowser)(`the board of a room${noBrowserReason}`, () => {
  const view$ = new BehaviorSubject(boardView([]));
  const built = hasBrowser ? builtPage() : null;
  const complaints: string[] = [];
  let server: PageServer;
  let browser: Awaited<ReturnType<typeof launchBrowser>>;
  let beat: NodeJS.Timeout;
  const say = (cots: readonly BoardCot[], part = {}) => view$.next(boardView(cots, part));

  beforeAll(async () => {
    server = await createBoardServer({ view$, webFolder: built!.folder, port: 0 });
    beat = setInterval(() => view$.next(view$.value), BEAT_MS);
    browser = await launchBrowser();
  });
  afterAll(async () => {
    clearInterval(beat);
    await browser?.close();
    await server?.close();
    built?.remove();
  });

  async function opened(options: BrowserContextOptions = {}, hour = 12): Promise<Page> {
    const usual = { viewport: TABLET, reducedMotion: 'reduce' } as const;
    const page = await freshPage(browser, { ...usual, ...options }, complaints, hour);
    await page.goto(server.url);
    return page;
  }

  it('shows each cot with the words and the drawing of the live page, in the order it is told', async () => {
    say([...states.slice(0, 2), ...calling, ...states.slice(2)]);
    const page = await opened();
    await page.getByRole('heading', { name: 'Cot B5' }).waitFor();
    expect(await page.getByRole('heading', { level: 2 }).allInnerTexts()).toEqual([
      'Go and look',
      'Still needs a hand',
      'A cue now',
      'Maybe had enough',
      'At the next pause',
      'Ready, nobody feeds yet',
      'No cue now',
    ]);
    for (const { cot, showing } of calling) {
      const card = page
        .getByRole('listitem')
        .filter({ has: page.getByRole('heading', { name: `Cot ${cot}`, exact: true }) });
      expect(await seen(card)).toContain(WORDS.en.shown[showing as (typeof SHOWN_CUES)[number]].glance);
      expect(await card.locator('svg').getAttribute('data-picture')).toBe(showing);
    }
    expect(await seen(page.locator('main'))).toContain('Sleeve 82, not bound');
    expect(await seen(page.locator('main'))).not.toMatch(/\d\s*(mL|fl oz|%)/);
    await page.context().close();
  });

  it.each([
    ['tablet', TABLET, 'en-US', 12, 'light'],
    ['tablet', TABLET, 'es-MX', 3, 'light'],
    ['phone', PHONE, 'es-MX', 12, 'light'],
    ['phone', PHONE, 'en-US', 3, 'dark'],
  ] as const)(
    'is sound on a %s (%j, %s, %i h, %s): axe with 7:1, targets, nothing sideways',
    async (_name, viewport, locale, hour, colorScheme) => {
      say([...states.slice(0, 2), ...calling, ...states.slice(2)], { isCutOff: true });
      const page = await opened({ viewport, locale, colorScheme }, hour);
      await page.getByRole('alert').locator('p').waitFor();
      await isSound(page, { except: 'p *, .one-of-row *' });
      expect(await violationsOf(page, { contrast7: true })).toEqual([]);
      await page.context().close();
    },
  );

  it.each([
    ['tablet', TABLET, 'en-US', 12],
    ['tablet upright', { width: 768, height: 1024 }, 'es-MX', 3],
    ['phone', PHONE, 'es-MX', 12],
    ['phone', PHONE, 'en-US', 3],
  ] as const)(
    'says each doubt about a calibration in its card, apart from the cue, on a %s (%j, %s, %i h)',
    async (_name, viewport, locale, hour) => {
      say([...doubted, boardCot({ sleeve: 130, cot: 'F1' })]);
      const page = await opened({ viewport, locale }, hour);
      await page.locator('.cot').nth(doubted.length).waitFor();
      const sentences = Object.values(CALIBRATION_DOUBTS[locale === 'en-US' ? 'en' : 'es']);
      const notes = await page.locator('.cot-note').allInnerTexts();
      expect(notes.toSorted()).toEqual(sentences.flatMap((one) => [one, one, one]).toSorted());
      const placed = await page.locator('.cot[data-doubt]').evaluateAll((cards) =>
        cards.map((card) => {
          const note = card.querySelector('.cot-note')!.getBoundingClientRect();
          const others = [...card.children].filter((one) => !one.matches('.cot-note'));
          const outer = card.getBoundingClientRect();
          return {
            isInside: note.left >= outer.left && note.right <= outer.right && note.bottom <= outer.bottom,
            isBeneath: others.every((one) => one.getBoundingClientRect().bottom <= note.top),
            // A sentence of more lines would hide the other cots.
            lines: (note.height - 16) / (15 * 1.25),
          };
        }),
      );
      expect(placed.every(({ isInside, isBeneath }) => isInside && isBeneath)).toBe(true);
      expect(Math.max(...placed.map(({ lines }) => lines))).toBeLessThan(5);
      await isSound(page, { except: 'p *, .one-of-row *' });
      expect(await violationsOf(page, { contrast7: true })).toEqual([]);
      await page.context().close();
    },
  );

  it('can be worked by keys alone, and the dimmed ground is kept', async () => {
    say(states);
    const page = await opened();
    await page.getByRole('heading', { name: 'Cot B5' }).waitFor();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.documentElement.dataset.tone)).toBe('night');
    expect(await violationsOf(page, { contrast7: true })).toEqual([]);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await seen(page.getByRole('dialog'))).toContain(WORDS.en.stressCard.emergency);
    await page.reload();
    await page.getByRole('heading', { name: 'Cot B5' }).waitFor();
    expect(await page.evaluate(() => document.documentElement.dataset.tone)).toBe('night');
    await page.context().close();
  });

  it('says to the ears what has just come, and once', async () => {
    say([boardCot()]);
    const page = await opened();
    await page.getByRole('heading', { name: 'Cot A1' }).waitFor();
    const ears = page.locator('.for-ears[aria-live="polite"]');
    say([boardCot({ need: 'cue', showing: 'tilt-down' })]);
    await expect.poll(() => ears.textContent()).toBe('Cot A1: Lower your hand');
    say([
      boardCot({ need: 'cue', showing: 'tilt-down' }),
      boardCot({ sleeve: 2, cot: 'A2', need: 'cue', showing: 'burp' }),
    ]);
    await expect.poll(() => ears.textContent()).toBe('Cot A2: Burp');
    await page.context().close();
  });

  it('says by itself that it hears nothing any more, and shows no cot then', async () => {
    say(states);
    const page = await opened();
    await page.getByRole('heading', { name: 'Cot B5' }).waitFor();
    clearInterval(beat);
    await page.getByRole('alert').getByText('Go by the babies').waitFor();
    expect(await page.locator('.cot').count()).toBe(0);
    beat = setInterval(() => view$.next(view$.value), BEAT_MS);
    await page.getByRole('heading', { name: 'Cot B5' }).waitFor();
    await page.context().close();
  });

  it.each(['light', 'dark'] as const)('at night no cue makes it much brighter (%s)', async (colorScheme) => {
    const quiet = Array.from({ length: 12 }, (_, i) => boardCot({ sleeve: i + 1, cot: `A${i + 1}` }));
    say(quiet);
    const page = await opened({ colorScheme }, 3);
    const tab = await page.context().newPage();
    await page.getByRole('heading', { name: 'Cot A12' }).waitFor();
    const before = await meanLuminance(page, tab);
    say(quiet.map((one) => ({ ...one, need: 'cue', showing: 'tilt-down' })));
    await page.locator('.cot[data-large]').first().waitFor();
    expect((await meanLuminance(page, tab)) / before).toBeLessThan(10);
    await page.context().close();
  });

  describe('with children and labels', () => {
    const answers: Record<string, unknown> = {
      '/me': { name: 'Rosa', acts: ['board', 'bind', 'arrange', 'trail', 'coded'] },
      '/studies': { studies: [LISTED], setAside: [] },
      '/studies/pace-1': {
        ...{ ...LISTED, isBlinded: true, withholds: true, computedBy: null, hasCurves: false, notShared: 2 },
        list: [{ ...SESSION, session: 'F01-001', setAside: null }],
        ...{ balance: [{ stratum: 'all', enrolled: 2, arms: null }], furthestApart: 1 },
      },
      '/bind': { state: 'more', has: ['child'], needs: ['bottle', 'sleeve'] },
      '/handover': {
        ...{ fromMs: 0, toMs: 1, zone: 'UTC' },
        children: [
          {
            ...{ name: 'Ilo', cot: 'A1' },
            feeds: [
              {
                ...{ atMs: 0, kind: 'bottle', takenMl: 60, leftMl: 40, leftUntilMs: 4e12, minutes: 15 },
                ...{ fedBy: 'Rosa', note: 'sleepy at the end' },
              },
            ],
            milk: [{ label: '12', ml: 90, useByMs: 4e12, isLeftOver: false }],
          },
        ],
      },
      '/trail': {
        lines: [
          {
            no: 1,
            atMs: 0,
            person: 'p-1',
            role: 'hold',
            act: 'bound',
            babyId: 'b-1',
            child: 'Ilo',
            more: 'sleeve 7',
          },
        ],
        broken: null,
      },
    };
    async function at(hash: string, options: BrowserContextOptions = {}, hour = 12): Promise<Page> {
      say([boardCot()]);
      const page = await opened(options, hour);
      for (const [path, answer] of Object.entries(answers))
        await page.route(`**${path}`, (route) => route.fulfill({ json: answers[path] ?? answer }));
      await page.goto(`${server.url}?with${hash}`);
      await page.getByRole('navigation').waitFor();
      return page;
    }

    it.each([
      ['#/bind', TABLET, 'en-US', 12],
      ['#/bind', PHONE, 'es-MX', 3],
      ['#/fill', TABLET, 'en-US', 12],
      ['#/fill', PHONE, 'es-MX', 3],
      ['#/handover', TABLET, 'es-MX', 3],
      ['#/handover', PHONE, 'en-US', 12],
      ['#/trail', PHONE, 'es-MX', 12],
      ['#/studies', PHONE, 'es-MX', 3],
      ['#/studies/pace-1', PHONE, 'en-US', 12],
      ['#/studies/pace-1', TABLET, 'es-MX', 3],
    ] as const)('%s is sound (%j, %s, %i h)', async (hash, viewport, locale, hour) => {
      const page = await at(hash, { viewport, locale }, hour);
      await page.getByRole('heading', { level: 2 }).first().waitFor();
      await isSound(page, { except: 'p *, .one-of-row *' });
      expect(await violationsOf(page, { contrast7: true })).toEqual([]);
      await page.context().close();
    });

    it('takes what a scanner types, and says loudly what must not be fed, until somebody begins again', async () => {
      const page = await at('#/bind');
      const code = page.getByLabel('Code on the label');
      await code.waitFor();
      // A scanner types into the focused field and ends with Enter.
      await page.keyboard.type('K7M2Q9XTA4');
      await page.keyboard.press('Enter');
      await page.getByText('still to scan').first().waitFor();
      answers['/bind'] = { state: 'stop', stop: 'wrong-child', text: null };
      await page.keyboard.type('B7M2Q9XTA4');
      await page.keyboard.press('Enter');
      expect(await seen(page.getByRole('alert').filter({ hasText: 'Stop' }))).toContain(
        'This bottle is for another child. Do not feed it.',
      );
      expect(await violationsOf(page, { contrast7: true })).toEqual([]);
      answers['/bind'] = { state: 'bound', cot: 'A1', sleeve: 7, useByMs: 4e12 };
      await page.keyboard.type('S7M2Q9XTA4');
      await page.keyboard.press('Enter');
      // Scanning another label does not clear the refusal.
      await page.getByText('This bottle is for another child.').waitFor();
      await page.getByRole('button', { name: 'Start again' }).click();
      await page.keyboard.type('S7M2Q9XTA4');
      await page.keyboard.press('Enter');
      await page.getByText('Bound: cot A1, sleeve 7.').waitFor();
      await page.context().close();
    });

    it('asks about one label after the other: a quick scanner loses none, and takes back no stop', async () => {
      const page = await at('#/bind');
      const asked: unknown[] = [];
      let letAnswer = () => {};
      const first = new Promise<void>((done) => {
        letAnswer = done;
      });
      await page.route('**/bind', async (route) => {
        asked.push(route.request().postDataJSON());
        const isFirst = asked.length === 1;
        if (isFirst) await first;
        const json = isFirst
          ? { state: 'more', has: ['child'], needs: ['bottle', 'sleeve'] }
          : { state: 'stop', stop: 'wrong-child', text: null };
        return route.fulfill({ json });
      });
      await page.getByLabel('Code on the label').waitFor();
      for (const code of ['K7M2Q9XTA4', 'B7M2Q9XTA4', 'S7M2Q9XTA4']) {
        await page.keyboard.type(code);
        await page.keyboard.press('Enter');
      }
      letAnswer();
      await page.getByText('This bottle is for another child.').waitFor();
      expect(asked).toEqual([{ codes: ['K7M2Q9XTA4'] }, { codes: ['K7M2Q9XTA4', 'B7M2Q9XTA4'] }]);
      await page.context().close();
    });

    it('releases a sleeve that was bound before, and lets whoever signed in go', async () => {
      const page = await at('#/bind');
      const asked: string[] = [];
      for (const path of ['/release', '/sign-out'])
        await page.route(`**${path}`, (route) => {
          asked.push(`${path} ${route.request().postData() ?? ''}`);
          return path === '/release' ? route.fulfill({ json: {} }) : route.fulfill({ status: 204 });
        });
      await page.getByLabel('Code on the label').waitFor();
      answers['/bind'] = { state: 'stop', stop: 'sleeve-bound', text: 'S7M2Q9XTA4' };
      await page.keyboard.type('S7M2Q9XTA4');
      await page.keyboard.press('Enter');
      await page.getByRole('button', { name: 'Release this sleeve' }).click();
      await page.getByText('Released. Scan the three labels again.').waitFor();
      await page.getByText('Rosa').waitFor();
      await page.getByRole('button', { name: 'Sign out' }).click();
      await expect.poll(() => asked).toEqual(['/release {"code":"S7M2Q9XTA4"}', '/sign-out ']);
      await page.context().close();
    });

    it('fills a bottle by two scans, and says until when the milk may be used', async () => {
      const page = await at('#/fill');
      const sent: unknown[] = [];
      await page.route('**/fill', (route) => {
        sent.push(route.request().postDataJSON());
        return route.fulfill({ json: { useByMs: Date.UTC(2026, 0, 2, 15, 30) } });
      });
      await page.getByLabel('Code of the bottle').waitFor();
      // Each scan ends with Enter, which moves to the next field.
      for (const typed of ['B7M2Q9XTA4', 'K7M2Q9XTA4', '12', '3']) {
        await page.keyboard.type(typed);
        await page.keyboard.press('Enter');
      }
      await page.getByText('Written down. Use the milk by').waitFor();
      expect(sent).toEqual([
        { bottle: 'B7M2Q9XTA4', child: 'K7M2Q9XTA4', ml: expect.closeTo(88.7, 1), from: '12', kind: null },
      ]);
      await page.context().close();
    });

    it('says on the board which cot’s feed was stopped', async () => {
      const page = await at('#/board');
      say([boardCot()], { stopped: [{ cot: 'A2', sleeve: null, code: 'wrong-child' }] });
      await page.getByText('Cot A2: This bottle is for another child.').waitFor();
      expect(await violationsOf(page, { contrast7: true })).toEqual([]);
      await page.context().close();
    });
  });

  it('weighs less than 50 kB gzipped until it is there, and nothing of it was refused', () => {
    expect(firstBytes(built!.folder, ['board.html', 'mark.svg', 'parts/board.css', 'board.js'])).toBeLessThan(
      50_000,
    );
    expect(complaints.filter((text) => !/CONNECTION|ERR_/.test(text))).toEqual([]);
  });
});
