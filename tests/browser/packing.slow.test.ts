/** The pages for packing and milk in a real browser, with a real service and store behind them; everything in them is invented. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { packingService } from '../../src/app/packing/packing-service.ts';
import { WORDS } from '../../src/pacing/cues/words.ts';
import { hasBrowser, noBrowserReason } from '../support/browser.ts';
import { DAY_MS, packingStore } from '../support/packing-store.ts';
import { isSound, ServedPage, seen, violationsOf } from './served-page.ts';

describe.skipIf(!hasBrowser)(`packing and milk${noBrowserReason}`, () => {
  const on = new ServedPage();

  beforeAll(async () => {
    await on.open(
      (folder) => packingStore(folder, Date.now(), Date.now),
      (store) => ({ packing: packingService(store, { nowMs: Date.now, zone: 'UTC' }) }),
    );
  });
  afterAll(() => on.close());

  it.each([
    ['light', 'en-US', 'Pack the bottles', 'en'],
    ['dark', 'es-US', 'Preparar los biberones', 'es'],
  ] as const)(
    'say what to pack on a phone, on a %s ground (%s)',
    async (colorScheme, locale, title, language) => {
      const page = await on.opened('#/packing', { colorScheme, locale });
      await page.getByRole('heading', { name: title }).waitFor();
      const bag = page.locator('.bag');
      await bag.waitFor();
      expect(await seen(bag)).toMatch(
        /\d × \d½? fl oz \(\d+ mL\)[\s\S]*(only if baby still asks|solo si el bebé aún pide)/,
      );
      expect(await page.locator('.trade tbody tr').count()).toBe(3);
      expect(await seen(page.locator('.cautions'))).toContain(WORDS[language].caution);
      await isSound(page);
      await page.context().close();
    },
  );

  it('take other hours, count the feeds anew, and keep the hours for tomorrow night', async () => {
    const page = await on.opened('#/packing');
    const feeds = page.getByRole('group', { name: 'Feeds you will miss' }).getByRole('status');
    await page.locator('.bag').waitFor();
    expect(await seen(feeds)).toBe('3');
    await page.getByLabel('until').fill('12:30');
    await page.waitForFunction(() => document.querySelector('output')?.textContent === '2');
    await page.getByRole('button', { name: 'Feeds you will miss: One fewer' }).click();
    await page.getByText('as you set it').waitFor();
    expect(await seen(feeds)).toBe('1');
    await page.reload();
    await page.locator('.bag').waitFor();
    expect(await page.getByLabel('until').inputValue()).toBe('12:30');
    await page.getByLabel('until').fill('17:30');
    await page.waitForFunction(() => document.querySelector('output')?.textContent === '3');
    await page.context().close();
  });

  it('hold to the limit she sets', async () => {
    const page = await on.opened('#/packing');
    const short = page.locator('.trade tbody tr').first().locator('td').last();
    await page.locator('.bag').waitFor();
    await page.getByRole('radio', { name: '20', exact: true }).check();
    const isWithin = (most: number) =>
      page.waitForFunction((limit) => {
        const cell = document.querySelector('.trade tbody tr td:last-child')?.textContent ?? '';
        return cell !== '' && Number(cell.replace('< 1', '0')) <= limit;
      }, most);
    await isWithin(20);
    await page.getByRole('radio', { name: '2', exact: true }).check();
    await isWithin(2);
    expect(Number((await seen(short)).replace('< 1', '0'))).toBeLessThanOrEqual(2);
    await page.getByRole('radio', { name: '5', exact: true }).check();
    await isWithin(5);
    await page.context().close();
  });

  it('claim nothing for a baby that is not well, and say whom to ask', async () => {
    const page = await on.opened('#/packing');
    await page.locator('.trade').waitFor();
    await page.getByLabel('Baby is not well').check();
    await page.getByText('nothing is claimed here').waitFor();
    await page.locator('.trade').waitFor({ state: 'detached' });
    expect(await seen(page.locator('.bag'))).not.toContain('of 100 days');
    expect(await seen(page.locator('.gates'))).toContain('Ask your clinician');
    await page.context().close();
  });

  it('stand side by side: one touch takes the other plan', async () => {
    const page = await on.opened('#/packing');
    const chosen = page.locator('.choice[aria-pressed="true"]');
    await chosen.waitFor();
    const before = await seen(chosen);
    await page.locator('.choice').last().click();
    await page.waitForFunction(
      (text) => document.querySelector('.choice[aria-pressed="true"]')?.textContent !== text,
      await chosen.textContent(),
    );
    expect(await seen(chosen)).not.toBe(before);
    await page.getByRole('radio', { name: '5', exact: true }).check();
    await page.waitForFunction(() => document.querySelectorAll('.choice').length === 3);
    await page.context().close();
  });

  it('say at the field what is wrong', async () => {
    const page = await on.opened('#/packing');
    await page.locator('.bag').waitFor();
    await page.getByLabel('Day', { exact: true }).fill('2020-01-01');
    const alert = page
      .locator('.field')
      .filter({ has: page.getByLabel('Day', { exact: true }) })
      .getByRole('alert');
    await alert.waitFor();
    expect(await seen(alert)).toContain('That time is over.');
    await page.context().close();
  });

  it('print once there is somebody to call', async () => {
    const page = await on.opened('#/packing');
    await page.getByText('enter that under “Rules and people” first').waitFor();
    await page.getByText('Rules and people', { exact: true }).click();
    const call = page.getByRole('group', { name: 'Whom they call' });
    await call.getByLabel('Name').fill('Mara');
    await call.getByLabel('Phone').fill('555-0142');
    await page.getByRole('button', { name: 'Keep' }).click();
    const link = page.getByRole('link', { name: 'Feeding plan, PDF' });
    await link.waitFor();
    const answer = await page.request.get(new URL((await link.getAttribute('href'))!, on.server.url).href);
    expect([answer.status(), answer.headers()['content-type']]).toEqual([200, 'application/pdf']);
    const sheet = await page.getByRole('link', { name: 'Day sheet, Page' }).getAttribute('href');
    // Served, it runs no script, not even this checker's; so it is looked at by itself.
    const paper = await page.context().newPage();
    await paper.setContent(await (await page.request.get(new URL(sheet!, on.server.url).href)).text());
    await paper.getByRole('heading', { name: 'Today’s feeds' }).waitFor();
    expect(await violationsOf(paper)).toEqual([]);
    await page.context().close();
  });

  it('keep a milk list: in, moved, thrown away, taken back; a label stands once', async () => {
    const page = await on.opened('#/milk');
    await page.getByText('No milk is in the list yet.').waitFor();
    const add = async (label: string, place: string) => {
      await page.getByText('Add milk').click();
      await page.getByLabel('Label on the lid').fill(label);
      await page.getByRole('radio', { name: place }).check();
      await page.getByRole('button', { name: 'Enter it' }).click();
    };
    await add('lid 7', 'In the fridge');
    const line = page.locator('.container-line').filter({ hasText: 'lid 7' });
    await line.waitFor();
    expect(await seen(line)).toMatch(
      /The published time passes .*: 4 days after expressing, in the fridge \(CDC/,
    );
    await isSound(page);
    await page.getByLabel('Label on the lid').fill('lid 7');
    await page.getByRole('button', { name: 'Enter it' }).click();
    const alert = page
      .locator('.field')
      .filter({ has: page.getByLabel('Label on the lid') })
      .getByRole('alert');
    expect(await seen(alert)).toContain('Container lid 7 is in the ledger already.');
    await page.getByLabel('Expressed or made').fill('2099-01-01T08:00');
    await page.getByLabel('Label on the lid').fill('lid 8');
    await page.getByRole('button', { name: 'Enter it' }).click();
    await page.locator('.field [role="alert"]', { hasText: 'future' }).waitFor();
    expect(on.store.readMilkEvents()).toHaveLength(1);

    await line.getByRole('button', { name: 'Into the freezer' }).click();
    await page.getByRole('heading', { name: 'In the freezer' }).waitFor();
    await line.locator('summary').click();
    await line.getByRole('button', { name: 'Thrown away' }).click();
    await line.waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Take back' }).first().click();
    await line.waitFor();
    expect(on.store.readMilkEvents().map(({ kind }) => kind)).toEqual([
      'got',
      'stored',
      'discarded',
      'taken-back',
    ]);
    await page.context().close();
  });

  it('go by the clock of the machine that keeps the list, however wrong the phone’s is', async () => {
    const page = await on.opened('#/packing');
    await page.clock.setFixedTime(Date.now() + 10 * 60_000);
    await page.goto(`${on.server.url}?late#/milk`);
    const line = page.locator('.container-line').filter({ hasText: 'lid 7' });
    await line.locator('summary').click();
    await line.getByRole('button', { name: 'Hold back' }).click();
    await line.getByText(/· held back/).waitFor();
    expect(on.store.readMilkEvents().at(-1)!.atMs).toBeLessThanOrEqual(Date.now());
    await page.context().close();
  });

  it('ask which bottle an ended feed was, and write it when somebody says so', async () => {
    const atMs = Date.now() - 1.9 * DAY_MS;
    on.store.appendMilkEvents([
      {
        atMs,
        babyId: null,
        container: 'blue',
        kind: 'got',
        entry: {
          what: 'got',
          atMs: Math.round(atMs),
          id: 'blue',
          kind: 'expressed',
          ml: 90,
          place: 'fridge',
        },
      },
    ]);
    const page = await on.opened('#/milk');
    const proposal = page.locator('.proposal').first();
    expect(await seen(proposal)).toMatch(/The feed of .* took 2½ fl oz \(7\d mL\)\. From which bottle\?/);
    await isSound(page);
    await proposal.getByRole('button', { name: 'Enter this feed' }).click();
    await page.getByText('left from a feed').waitFor();
    expect(
      on.store
        .readMilkEvents()
        .slice(-2)
        .map(({ kind }) => kind),
    ).toEqual(['offered', 'fed']);
    await page.context().close();
  });

  it('put filled bottles into the list at one touch', async () => {
    on.store.appendMilkEvents([
      {
        atMs: Date.now() - 1000,
        babyId: null,
        container: 'jug',
        kind: 'got',
        entry: {
          what: 'got',
          atMs: Date.now() - 1000,
          id: 'jug',
          kind: 'expressed',
          ml: 500,
          place: 'fridge',
        },
      },
    ]);
    const page = await on.opened('#/packing');
    await page.getByText('Fill them from').click();
    await page.getByRole('button', { name: 'Filled: put it into the milk list' }).click();
    await page.getByText('one label for each bottle').waitFor();
    expect(on.store.readMilkEvents().filter(({ kind }) => kind === 'poured').length).toBeGreaterThanOrEqual(
      3,
    );
    await page.getByRole('link', { name: 'Milk list' }).click();
    await page.getByText(/ #1/).first().waitFor();
    await page.context().close();
  });

  it('breaks no rule of the content security policy', () => {
    expect(on.complaints.filter((text) => !/status of (422|404)/.test(text))).toEqual([]);
  });

  it('take a plan, and ask in the evening what came back: one touch a bottle', async () => {
    const service = packingService(on.store, { nowMs: Date.now, zone: 'UTC' });
    const now = Date.now();
    const got = (id: string, ml: number) => ({
      what: 'got',
      atMs: now - 2 * 3_600_000,
      id,
      kind: 'expressed',
      ml,
      place: 'fridge',
    });
    service.enterMilk({ entries: ['t1', 't2', 't3', 't4', 't5'].map((id) => got(id, 90)) });
    const page = await on.opened('#/packing');
    await page.getByRole('button', { name: 'Take this plan' }).click();
    await page.getByText('Its milk is kept for it').waitFor();
    service.enterMilk({
      entries: [
        got('back 1', 60),
        got('back 2', 60),
        {
          what: 'promised',
          atMs: now - 3_600_000,
          plan: 'wren yesterday',
          fromMs: now - 3_500_000,
          untilMs: now - 60_000,
          ids: ['back 1', 'back 2'],
          claimed: { shortChance: 0.05, modelChance: 0.05, thrownMl: 40, bottles: 2 },
        },
      ],
    });
    const before = service.milk().totals;
    await page.goto(`${on.server.url}#/milk`);
    const evening = page.locator('.evening');
    await evening.waitFor();
    await isSound(page);
    await evening
      .locator('fieldset')
      .filter({ hasText: 'back 1' })
      .getByRole('button', { name: 'Empty' })
      .click();
    await evening.locator('fieldset').filter({ hasText: 'back 1' }).waitFor({ state: 'detached' });
    await evening.getByRole('button', { name: 'About half left' }).click();
    await evening.getByRole('button', { name: 'Yes, enough' }).click();
    await evening.waitFor({ state: 'detached' });
    const { totals } = service.milk();
    expect(totals.fedMl - before.fedMl).toBeCloseTo(90, 6);
    expect(totals.discardedMl - before.discardedMl).toBeCloseTo(30, 6);
    await page.context().close();
  });
});
