/** Pages that are fetched when they are first opened. */
import type { Page, Route } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { viewOf } from '../support/fake-live.ts';
import type { OpenPage } from './open-page.ts';

const LATE = '**/parts/*-page-*.js';

/** Holds back what is fetched later, and then does `then` with it. @returns what ends the wait */
async function held(page: Page, then: (route: Route) => Promise<void>): Promise<() => void> {
  let letCome = () => {};
  const wait = new Promise<void>((done) => {
    letCome = done;
  });
  await page.route(LATE, async (route) => {
    await wait;
    await then(route);
  });
  return letCome;
}

export function laterSuite(open: OpenPage): void {
  describe('pages fetched later', () => {
    it('are not fetched for the live page', async () => {
      const [context, page] = await open.phone();
      const fetched: string[] = [];
      page.on('request', (request) => fetched.push(new URL(request.url()).pathname));
      await open.show('gentle', {}, page);
      expect(fetched).toContain('/page.js');
      expect(fetched.filter((path) => path.includes('-page-'))).toEqual([]);
      await open.goTo('#/numbers', page);
      await page.getByText('23.7 mL/min').waitFor();
      expect(fetched.filter((path) => path.includes('-page-'))).toHaveLength(1);
      await context.close();
    });

    it('come under a sheet of ways that was opened meanwhile, and leave it open', async () => {
      const [context, page] = await open.phone();
      const letCome = await held(page, (route) => route.continue());
      await open.show('gentle', {}, page);
      await open.goTo('#/numbers', page);
      await page.getByRole('heading', { name: 'One moment' }).waitFor();
      await page.getByRole('button', { name: 'More: Pages' }).click();
      const sheet = page.getByRole('dialog', { name: 'More' });
      await sheet.waitFor();
      letCome();
      // Found by its text: behind the open sheet the page's roles are hidden.
      await page.getByText('23.7 mL/min').waitFor();
      expect(await sheet.isVisible()).toBe(true);
      await sheet.getByRole('link', { name: 'Practice' }).click();
      await sheet.waitFor({ state: 'detached' });
      await context.close();
    });

    it('leave a calm line and the running cue in sight while they come, and say it when they do not', async () => {
      const [context, page] = await open.phone();
      const letCome = await held(page, (route) => route.abort());
      open.live.view$.next(viewOf({ showing: 'tilt-down' }));
      await open.goTo('#/feeds', page);
      await page.getByRole('heading', { name: 'One moment' }).waitFor();
      await page.getByRole('link', { name: /Lower your hand/ }).waitFor();
      expect(await open.axeViolations(page)).toEqual([]);
      letCome();
      await page.getByRole('alert').waitFor();
      expect(await open.seen(page.getByRole('alert'))).toContain('could not be reached');
      await page.getByRole('link', { name: /Lower your hand/ }).waitFor();
      await context.close();
    });
  });
}
