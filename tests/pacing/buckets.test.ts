import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { creditBucket, emptyBucket, stepBucket } from '../../src/pacing/rules/buckets.ts';

/** The two of the sleeve contract, section 5. */
const LASTING = { rateMlPerMin: 8, depthMl: 18, rearmShare: 0.5 };
const POURING = { rateMlPerMin: 14, depthMl: 6, rearmShare: 0.5 };

describe('a pace bucket, worked by hand', () => {
  it('takes 1 mL in 3 s at 8 mL/min as 1 − 0.4 = 0.6 mL ahead', () => {
    const bucket = emptyBucket();
    stepBucket(bucket, 1, 3, LASTING);
    expect(bucket.aheadMl).toBeCloseTo(0.6, 12);
  });

  it('drains 8 mL/min: from 18 mL to nothing in 135 s, and never below', () => {
    const bucket = { ...emptyBucket(), aheadMl: 18 };
    stepBucket(bucket, 0, 134, LASTING);
    expect(bucket.aheadMl).toBeCloseTo(18 - (134 * 8) / 60, 9);
    stepBucket(bucket, 0, 2, LASTING);
    expect(bucket.aheadMl).toBe(0);
  });

  it.each([
    // flow − rate fills the depth: 6 / 10 min, 18 / 16 min, 18 / 4 min, 6 / 6 min.
    [POURING, 24, 36],
    [LASTING, 24, 67.5],
    [LASTING, 12, 270],
    [POURING, 20, 60],
  ])('crosses %o at %f mL/min after %f s, once', (params, flowMlPerMin, afterSec) => {
    const bucket = emptyBucket();
    const crossings: number[] = [];
    for (let step = 1; step <= 20 * 400; step += 1) {
      if (stepBucket(bucket, flowMlPerMin / 1200, 0.05, params)) crossings.push(step * 0.05);
    }
    expect(crossings).toHaveLength(1);
    expect(crossings[0]).toBeGreaterThan(afterSec - 0.001);
    expect(crossings[0]).toBeLessThan(afterSec + 0.101);
  });

  it('never crosses at its own rate, nor at exactly its depth', () => {
    const bucket = emptyBucket();
    expect(stepBucket(bucket, 6 + 14 / 60, 1, POURING)).toBe(false);
    expect(bucket.aheadMl).toBeCloseTo(6, 12);
    for (let step = 0; step < 20_000; step += 1) {
      expect(stepBucket(bucket, 14 / 1200 - 1e-9, 0.05, POURING)).toBe(false);
    }
  });

  it('is re-armed under half of its depth, not before', () => {
    const bucket = emptyBucket();
    expect(stepBucket(bucket, 7, 0, POURING)).toBe(true);
    stepBucket(bucket, -3.9, 0, POURING);
    expect(bucket.armed).toBe(false);
    expect(stepBucket(bucket, 5, 0, POURING)).toBe(false);
    stepBucket(bucket, -5.2, 0, POURING);
    expect(bucket.armed).toBe(true);
    expect(stepBucket(bucket, 4, 0, POURING)).toBe(true);
  });

  it('takes a small correction downward as one', () => {
    const bucket = { ...emptyBucket(), aheadMl: 2 };
    stepBucket(bucket, -0.5, 0, POURING);
    expect(bucket.aheadMl).toBeCloseTo(1.5, 12);
  });

  it('credits a pause, and re-arms by it', () => {
    const bucket = { ...emptyBucket(), aheadMl: 5.5, armed: false };
    creditBucket(bucket, 0.5, POURING);
    expect(bucket).toMatchObject({ aheadMl: 2.75, armed: true });
  });
});

describe('a pace bucket, whatever comes in', () => {
  const increments = fc.array(
    fc.record({
      incrementMl: fc.double({ min: -1, max: 3, noNaN: true }),
      stepSec: fc.double({ min: 0, max: 5, noNaN: true }),
    }),
    { maxLength: 200 },
  );

  it('is never below zero, and equals the cumulative sum over its running minimum', () => {
    fc.assert(
      fc.property(increments, (steps) => {
        const bucket = emptyBucket();
        let sum = 0;
        let least = 0;
        for (const { incrementMl, stepSec } of steps) {
          stepBucket(bucket, incrementMl, stepSec, POURING);
          // Page 1954 (from memory): the one-sided statistic is S − min S.
          sum += incrementMl - (14 / 60) * stepSec;
          least = Math.min(least, sum);
          expect(bucket.aheadMl).toBeGreaterThanOrEqual(0);
          expect(bucket.aheadMl).toBeCloseTo(sum - least, 9);
        }
      }),
    );
  });

  it('crosses again only after it has been under half of its depth', () => {
    fc.assert(
      fc.property(increments, (steps) => {
        const bucket = emptyBucket();
        let beenLow = true;
        for (const { incrementMl, stepSec } of steps) {
          const crossed = stepBucket(bucket, incrementMl, stepSec, POURING);
          if (crossed) {
            expect(beenLow).toBe(true);
            expect(bucket.aheadMl).toBeGreaterThan(6);
            beenLow = false;
          } else if (bucket.aheadMl < 3) beenLow = true;
        }
      }),
    );
  });
});
