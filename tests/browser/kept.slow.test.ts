/** The page about what is kept in a real browser, with a real service and store behind it; everything in them is invented. */

import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { keptService } from '../../src/app/kept/kept-service.ts';
import { openStore } from '../../src/store/open-store.ts';
import { hasBrowser, noBrowserReason } from '../support/browser.ts';
import { fullFolder, NOW_MS } from '../support/full-store.ts';
import { isSound, ServedPage } from './served-page.ts';

describe.skipIf(!hasBrowser)(`what is kept${noBrowserReason}`, () => {
  const on = new ServedPage();
  let data = '';

  beforeAll(async () => {
    await on.open(
      (folder) => {
        data = fullFolder(folder);
        return openStore(data, { recording: true, nowMs: () => NOW_MS });
      },
      (store) => ({ kept: keptService(store, data) }),
    );
  });
  afterAll(() => on.close());

  it.each([
    ['light', 'en-US', 'What is kept', /Wren: 3 feeds, 1 written in by hand/],
    ['dark', 'es-US', 'Lo que se guarda', /Wren: 3 tomas, 1 anotadas a mano/],
  ] as const)('is told on a phone, on a %s ground (%s)', async (colorScheme, locale, title, baby) => {
    const page = await on.opened('#/kept', { colorScheme, locale });
    await page.getByRole('heading', { name: title }).waitFor();
    await page.getByText(baby).waitFor();
    await isSound(page);
    await page.getByRole('button', { name: /Delete all of Wren|Borrar todo de Wren/ }).click();
    await page.getByRole('textbox').waitFor();
    await isSound(page);
    await page.context().close();
  });

  it('can be taken away as a file', async () => {
    const page = await on.opened('#/kept');
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Save everything as a file' }).click(),
    ]);
    expect(download.suggestedFilename()).toBe('ebbline.jsonl');
    const lines = readFileSync(await download.path(), 'utf8')
      .trim()
      .split('\n');
    expect(JSON.parse(lines.at(-1)!)).toEqual({ record: 'end', records: lines.length - 2 });
    await page.context().close();
  });

  it('goes for good only when asked twice', async () => {
    const page = await on.opened('#/kept');
    const feeds = () => on.store.list({ discarded: true }).length;
    await page.getByRole('button', { name: 'Delete all of Wren …' }).click();
    const goOn = page.getByRole('button', { name: 'Go on' });
    expect(await goOn.isDisabled()).toBe(true);
    await page.getByLabel('Type “Wren” to go on').fill('Linnet');
    expect(await goOn.isDisabled()).toBe(true);
    await page.getByLabel('Type “Wren” to go on').fill('wren');
    await goOn.click();
    await page.getByRole('alertdialog', { name: 'Delete all of Wren for good?' }).waitFor();
    await isSound(page);
    await page.getByRole('button', { name: 'No, keep it' }).click();
    expect(feeds()).toBe(4);

    await page.getByRole('button', { name: 'Delete all of Wren …' }).click();
    await page.getByLabel('Type “Wren” to go on').fill('Wren');
    await goOn.click();
    await page.getByRole('button', { name: 'Yes, delete' }).click();
    await page.getByText('All of Wren is deleted: 3 feeds.').waitFor();
    expect(await page.getByText(/^Wren:/).count()).toBe(0);
    await page.getByText('Linnet: 1 feed, 1 written in by hand').waitFor();
    expect(feeds()).toBe(1);
    await page.context().close();
  });

  it('without a complaint of the browser', () => {
    expect(on.complaints).toEqual([]);
  });
});
