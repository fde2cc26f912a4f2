/** The page in a real browser. One browser serves all; suites live in the files beside. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, noBrowserReason } from '../support/browser.ts';
import { brightnessSuite } from './brightness-suite.ts';
import { calibrationSuite } from './calibration-suite.ts';
import { laterSuite } from './later-suite.ts';
import { liveSuite } from './live-suite.ts';
import { lookSuite } from './look-suite.ts';
import { OpenPage } from './open-page.ts';
import { practiceSuite } from './practice-suite.ts';
import { readingSuite } from './reading-suite.ts';
import { safetySuite } from './safety-suite.ts';
import { sharingSuite } from './sharing-suite.ts';
import { silenceSuite } from './silence-suite.ts';
import { touchSuite } from './touch-suite.ts';

describe.skipIf(!hasBrowser)(`the page${noBrowserReason}`, () => {
  const open = new OpenPage();
  beforeAll(() => open.open());
  afterAll(() => open.close());

  liveSuite(open);
  calibrationSuite(open);
  touchSuite(open);
  readingSuite(open);
  lookSuite(open);
  safetySuite(open);
  brightnessSuite(open);
  laterSuite(open);
  practiceSuite(open);
  sharingSuite(open);
  silenceSuite(open);

  it('no script or style of the page was refused, and nothing failed', () => {
    const expected =
      /status of (400|401|403|404|500)|net::ERR_(FAILED|CONNECTION_REFUSED|INCOMPLETE_CHUNKED_ENCODING|EMPTY_RESPONSE|CONNECTION_RESET)/;
    expect(open.complaints.filter((text) => !expected.test(text))).toEqual([]);
  });

  it('weighs less than 40 kB gzipped until it is there', () => {
    expect(open.firstWeight()).toBeLessThan(40_000);
    expect(open.firstWeight()).toBeGreaterThan(20_000);
  });
});
