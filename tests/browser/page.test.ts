/** The page in a real browser. One browser serves all; suites live in the files beside. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, noBrowserReason } from '../support/browser.ts';
import { laterSuite } from './later-suite.ts';
import { liveSuite } from './live-suite.ts';
import { lookSuite } from './look-suite.ts';
import { OpenPage } from './open-page.ts';
import { readingSuite } from './reading-suite.ts';
import { sharingSuite } from './sharing-suite.ts';
import { silenceSuite } from './silence-suite.ts';
import { touchSuite } from './touch-suite.ts';

describe.skipIf(!hasBrowser)(`the page${noBrowserReason}`, () => {
  const open = new OpenPage();
  beforeAll(() => open.open(), 60_000);
  afterAll(() => open.close());

  liveSuite(open);
  touchSuite(open);
  readingSuite(open);
  lookSuite(open);
  laterSuite(open);
  sharingSuite(open);
  silenceSuite(open);

  it('weighs less than 60 kB gzipped until it is there', () => {
    expect(open.firstWeight()).toBeLessThan(60_000);
    expect(open.firstWeight()).toBeGreaterThan(20_000);
  });
});
