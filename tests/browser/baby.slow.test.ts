/** The pages for a baby and before a feed in a real browser, with a real service and store behind them; everything in them is invented. */
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { babyService } from '../../src/app/babies/babies-service.ts';
import { WORDS } from '../../src/pacing/cues/words.ts';
import { openStore } from '../../src/store/open-store.ts';
import { babyEntry } from '../support/babies.ts';
import { hasBrowser, noBrowserReason } from '../support/browser.ts';
import { begunFeed, partOfSecond } from '../support/store-samples.ts';
import { isSound, ServedPage } from './served-page.ts';

describe.skipIf(!hasBrowser)(`a baby, and before a feed${noBrowserReason}`, () => {
  const on = new ServedPage();

  beforeAll(async () => {
    await on.open(
      (folder) => openStore(folder, { recording: true }),
      (store) => ({ babies: babyService(store) }),
    );
  });
  afterAll(() => on.close());

  async function isSoundHere(page: Page): Promise<void> {
    await isSound(page, { targets: 'a, button, input, label:has(input)', except: 'p *, label *' });
    // A refusal is an answer.
    expect(on.complaints.filter((text) => !text.includes('422'))).toEqual([]);
  }

  const choose = (page: Page, legend: string | RegExp, text: string): Promise<void> =>
    page.getByRole('group', { name: legend }).getByRole('radio', { name: text, exact: true }).check();
  const answerAll = async (page: Page, yes: string, no: string): Promise<void> => {
    for (const group of await page.locator('.questions fieldset').all())
      await group.getByRole('radio', { name: no, exact: true }).check();
    if (yes) await choose(page, yes, 'Yes');
  };
  const troubles = (page: Page): Locator => page.locator('.refused[id]');

  it('a baby is entered: every question answered, the plan at its fields, and what follows is said', async () => {
    const page = await on.opened('#/baby');
    await page.getByLabel('Name or initials').fill('Wren');
    await page.getByRole('button', { name: 'Keep' }).click();
    expect(await troubles(page).first().textContent()).toBe('Answer with yes or no.');
    await isSoundHere(page);

    await answerAll(page, 'Tongue-tie?', 'No');
    await page.getByText(WORDS.en.screening.cuesOff).waitFor();
    await choose(page, 'Your clinician’s plan', 'There is a plan');
    await page.getByLabel('Who gave it').fill('the feeding clinic');
    const figures = page.getByLabel(/^(Pace|How far)/);
    for (const [i, value] of ['600', '12', '10', '5'].entries()) await figures.nth(i).fill(value);
    await page.getByRole('button', { name: 'Keep' }).click();
    const trouble = page.locator('#plan-lastingRate-trouble');
    await trouble.waitFor();
    expect(await figures.first().getAttribute('aria-invalid')).toBe('true');
    expect(on.store.listBabies()).toEqual([]);
    await isSoundHere(page);

    await figures.first().fill('6');
    await page.getByRole('button', { name: 'Keep' }).click();
    await page.getByText('Kept.').waitFor();
    await page.locator('form > [role=status]').getByText(WORDS.en.screening.withPlan).last().waitFor();
    expect(on.store.listBabies()).toMatchObject([
      { name: 'Wren', answers: { 'tongue-tie': true, cleft: false }, plan: { lasting: { rateMlPerMin: 6 } } },
    ]);
    await page.getByRole('button', { name: 'Go on to the next feed' }).click();
    await page.getByText('These belong together').waitFor();
    const { id } = on.store.listBabies()[0]!;
    expect(on.live.commands.at(-1)).toMatchObject({ kind: 'setup', setup: { babyId: id, babyName: 'Wren' } });
    await page.context().close();
  });

  it('the breast is not mentioned to a family that does not breastfeed', async () => {
    const page = await on.opened('#/baby');
    await page.getByText('Usual feed', { exact: true }).waitFor();
    await choose(page, /also drink at the breast/, 'Yes');
    await page.getByLabel('Minutes at the breast, in all').fill('2');
    await choose(page, /also drink at the breast/, 'No');
    expect(await page.getByText('Minutes at the breast').count()).toBe(0);
    await page.context().close();
  });

  it('three weighed feeds give her own pace; two do not; a weight that cannot be is refused at its place', async () => {
    const moss = on.store.addBaby(babyEntry({ name: 'Moss', breastfed: true }));
    const page = await on.opened(`#/baby/${moss.id}`);
    const add = async (before: string, after: string) => {
      await page.getByLabel('Before, g').fill(before);
      await page.getByLabel('After, g').fill(after);
      await page.getByLabel('Minutes of this feed').fill('14');
      await page.getByRole('button', { name: 'Add this feed' }).click();
    };
    const keep = () => page.getByRole('button', { name: 'Keep' }).click();
    await add('5200', '5275');
    await add('5210', '5290');
    await keep();
    await page.getByText('Once three are kept').waitFor();
    await add('5220', '6290');
    await keep();
    await page.getByText('A weight or the minutes cannot be right').waitFor();
    await page.getByRole('button', { name: 'Take out' }).last().click();
    await add('5220', '5302');
    await keep();
    await page.getByText(/^Your own feed: 2½ fl oz \(7\d mL\), give or take \d+ mL, in 14 minutes/).waitFor();
    await isSoundHere(page);
    expect(on.store.getBaby(moss.id)!.weighed).toHaveLength(3);
    on.store.forget('Moss');
    await page.context().close();
  });

  it('before a feed: babies at one touch, few cues said and taken back, the three read once more', async () => {
    const sol = on.store.addBaby(babyEntry({ name: 'Sol' }));
    for (let i = 0; i < 3; i++) {
      const startedAtMs = Date.now() - (i + 1) * 3600_000;
      const setup = { ...begunFeed('x').setup, babyId: sol.id, caregiver: null };
      on.store.begin(begunFeed(`sol-${i}`, { startedAtMs, sampleZeroAtMs: startedAtMs, setup }), null);
      on.store.append(`sol-${i}`, { ...partOfSecond(1), intakeMl: 80, durationSec: 900 });
      on.store.finish(`sol-${i}`, { endReason: 'button', endedAtMs: startedAtMs + 900_000, refined: null });
    }
    const page = await on.opened('#/before');
    await page.getByRole('radio', { name: 'Sol' }).check();
    await page.getByText(WORDS.en.quiet.quieter).waitFor();
    await page.getByLabel('Bottle').fill('blue cap');
    expect(await page.locator('.together strong').textContent()).toBe(
      'Sol · bottle “blue cap” · simulated sleeve',
    );
    await isSoundHere(page);
    await page.getByRole('button', { name: 'Give all cues again' }).click();
    await page.getByText(WORDS.en.quiet.quieter).waitFor({ state: 'detached' });
    expect(on.store.getBaby(sol.id)!.quietSinceMs).not.toBeNull();
    await page.getByRole('button', { name: 'which sleeve' }).click();
    await page.getByText('glows three times').waitFor();
    expect(on.live.commands.at(-1)).toEqual({ kind: 'which-sleeve' });
    await page.getByRole('button', { name: 'Keep' }).click();
    await expect
      .poll(() => on.live.commands.at(-1))
      .toMatchObject({
        kind: 'setup',
        setup: { babyId: sol.id, babyName: 'Sol', babyBirthDate: '2025-09-02', bottleName: 'blue cap' },
      });
    await page.context().close();
  });

  it('in Spanish, at night, with everything folded out', async () => {
    const page = await on.opened('#/baby', { locale: 'es-US', colorScheme: 'dark' });
    await page.getByLabel('Nombre o iniciales').fill('sol');
    await answerAll(page, '', 'No');
    await choose(page, /del pecho/, 'Sí');
    await page.getByRole('button', { name: 'Guardar' }).click();
    await page.getByText('Ya hay un bebé con ese nombre').waitFor();
    await isSoundHere(page);
    await page.context().close();
  });

  it('the three steps before the first suck: each drawn, put away for good on this device, and found again', async () => {
    const page = await on.opened('#/before');
    const steps = page.locator('.first-steps li');
    await steps.first().waitFor();
    expect(await steps.locator('svg.picture').count()).toBe(3);
    expect(await steps.locator('strong').allTextContents()).toEqual([
      'Baby upright and close.',
      'Bottle level.',
      'Touch the lips, and wait.',
    ]);
    await isSoundHere(page);
    await page.getByRole('button', { name: 'do not show them again' }).click();
    await page.reload();
    await page.getByRole('button', { name: 'Show the steps' }).click();
    expect(await steps.count()).toBe(3);
    await page.context().close();
  });

  it('"Baby" is asked once; the flow of a nipple is sent, and known again by its name', async () => {
    const page = await on.opened('#/before');
    await choose(page, 'Baby', 'Another baby');
    expect(await page.getByRole('group', { name: 'Baby', exact: true }).count()).toBe(1);
    await page.getByLabel('Nipple', { exact: true }).fill('Wide');
    await choose(page, /Flow of the nipple/, 'Slow');
    await page.getByRole('button', { name: 'Keep' }).click();
    // Once it is kept the page goes to the live one by itself.
    await page.locator('.stage').waitFor();
    await page.getByRole('link', { name: 'Before a feed' }).click();
    expect(on.live.commands.at(-1)).toMatchObject({ setup: { teatName: 'Wide', teatFlow: 'slow' } });
    await page.getByLabel('Nipple', { exact: true }).fill('Round');
    await choose(page, /Flow of the nipple/, 'Fast');
    await page.getByLabel('Nipple', { exact: true }).fill('wide');
    const flow = page.getByRole('group', { name: /Flow of the nipple/ });
    expect(await flow.getByRole('radio', { name: 'Slow' }).isChecked()).toBe(true);
    await page.context().close();
  });
});
