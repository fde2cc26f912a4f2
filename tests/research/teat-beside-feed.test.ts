/** A nipple's passport beside a feed: "faster than measured" is stated only where that is clear. */
import { describe, expect, it } from 'vitest';
import type { FeedRow } from '../../src/feed/record/feed.ts';
import { teatBesideFeed } from '../../src/research/teat/beside-feed.ts';
import { teatPassport } from '../../src/research/teat/passport.ts';
import { nippleTrials } from '../support/passports.ts';

const passport = (mlPerMin: number, change: object = {}) =>
  teatPassport(nippleTrials([mlPerMin, mlPerMin, mlPerMin], { headMm: 120, atMs: 1000, ...change }));

/** Bursts at one flow and pauses at another, a quarter of the time, one row a second. */
const feed = (burstMlPerMin: number, pauseMlPerMin: number, seconds = 600, startedAtMs = 5000) => ({
  startedAtMs,
  rows: Array.from({ length: seconds }, (_, atSec): FeedRow => {
    const flowMlPerMin = atSec % 20 < 15 ? burstMlPerMin : pauseMlPerMin;
    return { atSec, milkMl: 80, flowMlPerMin, intakeMl: 0, teatInMouth: true, tiltDeg: 30 };
  }),
});

describe('a passport beside a feed', () => {
  it('says that milk ran in pauses, too, of a nipple that hardly dripped when it was measured', () => {
    expect(teatBesideFeed([passport(1)], feed(20, 9))).toMatchObject({ isFaster: true, gaveMlPerMin: 9 });
    expect(teatBesideFeed([passport(1)], feed(20, 1))).toMatchObject({ isFaster: false });
    expect(teatBesideFeed([passport(9)], feed(20, 9))).toMatchObject({ isFaster: false });
  });

  it('goes with the root of the height, by Torricelli: twice as much under four times the height', () => {
    const mostOver = (headMm: number): number => {
      const one = passport(4, { headMm });
      return teatBesideFeed([one], feed(20, 9))!.mostMlPerMin / one.highMlPerMin;
    };
    expect(mostOver(30)).toBeCloseTo(2, 6);
    // A lower bottle never lowers the expected flow below the measured one.
    expect(mostOver(200)).toBeCloseTo(1, 6);
  });

  it('measured under suction, allows what a strong suck draws, and no more', () => {
    // √((144.5 + 9) ÷ (150 + 9)) < 1: as measured.
    const pumped = passport(12, { suction: { mmHg: 150 } });
    expect(teatBesideFeed([pumped], feed(13, 0))).toMatchObject({ isFaster: false, suctionMmHg: 150 });
    expect(teatBesideFeed([pumped], feed(22, 0))).toMatchObject({ isFaster: true, gaveMlPerMin: 22 });
  });

  it('goes by the last measuring before the feed, and says the clear one of two kinds', () => {
    const early = passport(9, { atMs: 1000 });
    const late = passport(1, { atMs: 9000 });
    expect(teatBesideFeed([early, late], feed(20, 9))!.measuredMlPerMin).toBeCloseTo(9, 6);
    expect(teatBesideFeed([late], feed(20, 9))).toBeNull();
    const pumped = passport(12, { suction: { mmHg: 150 } });
    expect(teatBesideFeed([early, pumped], feed(22, 1))).toMatchObject({
      isFaster: true,
      suctionMmHg: 150,
    });
  });

  it('says nothing of a short feed, nor of rows without a flow or with the nipple out', () => {
    expect(teatBesideFeed([passport(1)], feed(20, 9, 170))).toBeNull();
    const long = feed(20, 9);
    const out = long.rows.map((row) => ({ ...row, teatInMouth: false }));
    const unknown = long.rows.map((row) => ({ ...row, flowMlPerMin: null }));
    expect(teatBesideFeed([passport(1)], { ...long, rows: out })).toBeNull();
    expect(teatBesideFeed([passport(1)], { ...long, rows: unknown })).toBeNull();
  });
});
