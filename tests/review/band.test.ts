import { describe, expect, test } from 'vitest';
import { MILK_DENSITY_GRAMS_PER_ML } from '../../src/base/units.ts';
import { SHIPPED_PROFILE } from '../../src/pacing/index.ts';
import { emptyBucket, stepBucket } from '../../src/pacing/rules/buckets.ts';
import { paceOfFeed } from '../../src/review/facts/feed-pace.ts';
import {
  lowerEdgeMl,
  slowFeedMl,
  twoBreastsMl,
  upperEdgeCorners,
  upperEdgeMinute,
  upperEdgeMl,
  WHOLE_FEED_MEANS,
} from '../../src/review/graph/band.ts';

const { lines: LINES } = paceOfFeed({ events: [] });

describe('upper edge: the line that cues', () => {
  test('of a feed that kept no pace is made of the buckets that ship', () => {
    const { lasting, pouring } = SHIPPED_PROFILE.buckets;
    const shipped = [lasting, pouring].map(({ depthMl, rateMlPerMin }) => ({
      startMl: depthMl.value,
      mlPerMin: rateMlPerMin.value,
    }));
    expect(LINES).toEqual(shipped);
    expect(upperEdgeCorners(LINES)).toEqual([2]);
    expect(upperEdgeCorners([LINES[0], LINES[0]])).toEqual([]);
  });

  // Sleeve contract, section 5: buckets of 8 mL/min with 18 mL and of 14 mL/min with 6 mL.
  test.each([
    [0, 6],
    [1, 20],
    [2, 34],
    [10, 98],
  ])('at minute %d it stands at %d mL', (minute, ml) => {
    expect(upperEdgeMl(LINES, minute)).toBeCloseTo(ml, 9);
    expect(upperEdgeMinute(LINES, ml)).toBeCloseTo(minute, 9);
  });

  test.each([9, 12, 16, 20, 24, 40])(
    'a steady %d mL/min brings the first cue where it crosses the edge',
    (flowMlPerMin) => {
      const stepSec = 0.05;
      const buckets = LINES.map(({ startMl, mlPerMin }) => ({
        bucket: emptyBucket(),
        params: { rateMlPerMin: mlPerMin, depthMl: startMl, rearmShare: 0.5 },
      }));
      let sec = 0;
      let crossed = false;
      while (!crossed) {
        sec += stepSec;
        for (const { bucket, params } of buckets) {
          if (stepBucket(bucket, (flowMlPerMin / 60) * stepSec, stepSec, params)) crossed = true;
        }
      }
      const minute = sec / 60;
      expect(Math.abs(flowMlPerMin * minute - upperEdgeMl(LINES, minute))).toBeLessThan(0.05);
    },
  );
});

describe('lower edge: means of small studies', () => {
  // Kent JC et al. 2013, Breastfeed Med 8:401-407: 106, 126 and 126 mL in 36, 29 and 23 min at 1, 3 and 6 months.
  test.each([
    [1, 2.9],
    [3, 4.3],
    [6, 5.5],
  ])('session mean at %d months: %d mL/min', (months, mlPerMin) => {
    const session = WHOLE_FEED_MEANS.find((mean) => mean.months === months)!;
    expect(session.intakeMl / session.minutes).toBeCloseTo(mlPerMin, 1);
  });

  test('the slowest session is followed, and ends', () => {
    expect(slowFeedMl(10)).toBeCloseTo(29.4, 1);
    expect(slowFeedMl(36)).toBe(106);
    expect(slowFeedMl(60)).toBe(106);
    expect(slowFeedMl(-1)).toBe(0);
  });

  // Lucas A, Lucas P, Baum JD 1980, Pediatr Res 14:179: half of a breast's milk by 2 min, 85 % by 4 min.
  // Lucas A, Lucas PJ, Baum JD 1981, Early Hum Dev 5:195-199: 75 mL in 25 min at two breasts, 84 % of it in minutes
  // 0-4 and 15-19. 9.4 and 6.6 mL/min in the first and second two minutes follow from both.
  test('two breasts on day 6', () => {
    expect(twoBreastsMl(2)).toBeCloseTo(0.5 * 37.5, 9);
    expect(twoBreastsMl(4)).toBeCloseTo(0.85 * 37.5, 9);
    expect(twoBreastsMl(2) / 2).toBeCloseTo(9.4, 1);
    expect((twoBreastsMl(4) - twoBreastsMl(2)) / 2).toBeCloseTo(6.6, 1);
    expect(twoBreastsMl(25)).toBe(75);
    expect(twoBreastsMl(40)).toBe(75);
    const inFastMinutes = twoBreastsMl(4) + twoBreastsMl(19) - twoBreastsMl(15);
    expect(inFastMinutes / 75).toBeCloseTo(0.84, 1);
  });

  test('starts at nothing, never falls, and lies below the upper edge', () => {
    let before = 0;
    for (let minute = 0; minute <= 60; minute += 0.1) {
      const now = lowerEdgeMl(minute);
      expect(now).toBeGreaterThanOrEqual(before);
      expect(now).toBeLessThan(upperEdgeMl(LINES, minute));
      before = now;
    }
    expect(lowerEdgeMl(0)).toBe(0);
    expect(lowerEdgeMl(60)).toBe(75);
  });
});

describe('published feeds lie in the band at their end', () => {
  test.each([
    // Howie PW et al. 1981, Early Hum Dev 5:71-77: days 5-7.
    ['70.9 g in 17.3 min', 70.9 / MILK_DENSITY_GRAMS_PER_ML, 17.3],
    // Mitoulas LR et al. 2002, J Hum Lact 18:344-352: one breast.
    ['71.8 mL in 16.6 min', 71.8, 16.6],
    // Lucas, Lucas, Baum 1981: bottle, 81 % of 67 mL in the first 10 min.
    ['54 mL of a bottle in 10 min', 0.81 * 67, 10],
    // Kent 2013 at 6 months: the fastest of its session means.
    ['126 mL in 23 min', 126, 23],
  ])('%s', (_name, intakeMl, minute) => {
    expect(intakeMl).toBeGreaterThan(lowerEdgeMl(minute));
    expect(intakeMl).toBeLessThan(upperEdgeMl(LINES, minute));
  });

  test('a bottle of 4 oz poured in 5 minutes does not', () => {
    expect(118).toBeGreaterThan(upperEdgeMl(LINES, 5));
  });
});
