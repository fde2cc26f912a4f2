/**
 * A pace bucket is Page's cumulative sum (1954): its average run length must be what is published for one, on normal increments of unit variance.
 *
 * Siegmund 1985, Sequential Analysis, corrected diffusion (from memory): ARL ≈ (exp(−2Δb) + 2Δb − 1) / (2Δ²), Δ = mean − reference, b = h + 1.166.
 * Table of exact values for reference 0.5 (Montgomery, Introduction to Statistical Quality Control, cumulative sum chapter; from memory):
 * h = 4: 168 at no shift, 8.38 at a shift of 1, 3.34 at 2. h = 5: 465, 10.4, 4.01. The table is two-sided; a bucket has one side, so at no shift
 * twice that: 1/168 = 1/336 + 1/336. After a shift the other side adds nothing.
 */
import { describe, expect, it } from 'vitest';
import { emptyBucket, stepBucket } from '../../src/pacing/rules/buckets.ts';
import { seededDraws } from '../support/distributions.ts';

const REFERENCE = 0.5;

function siegmund(shift: number, h: number): number {
  const drift = shift - REFERENCE;
  const b = h + 1.166;
  return (Math.exp(-2 * drift * b) + 2 * drift * b - 1) / (2 * drift * drift);
}

/** Steps of one second; the drain of a step is the reference value. */
function meanRunLength(shift: number, h: number, runs: number): number {
  const draws = seededDraws(11);
  const params = { rateMlPerMin: REFERENCE * 60, depthMl: h, rearmShare: 0.5 };
  let steps = 0;
  for (let run = 0; run < runs; run += 1) {
    const bucket = emptyBucket();
    do steps += 1;
    while (!stepBucket(bucket, draws.normal(shift, 1), 1, params));
  }
  return steps / runs;
}

describe('the average run length of a bucket', () => {
  it.each([
    [0, 4, 2 * 168, 1500],
    [1, 4, 8.38, 4000],
    [2, 4, 3.34, 4000],
    [0, 5, 2 * 465, 700],
    [1, 5, 10.4, 4000],
    [2, 5, 4.01, 4000],
  ])('shift %f, depth %f: %f within three standard errors', (shift, h, published, runs) => {
    const measured = meanRunLength(shift, h, runs);
    // Run lengths scatter about as much as their mean at no shift, less than half of it after a shift.
    const error = ((shift === 0 ? 1 : 0.5) * published) / Math.sqrt(runs);
    expect(Math.abs(measured - published)).toBeLessThan(3 * error + 0.005 * published);
  });

  it.each([
    [0, 4],
    [0, 5],
    [1, 4],
    [1, 5],
    [1.5, 5],
  ])('shift %f, depth %f: as by Siegmund’s approximation, to 4 %%', (shift, h) => {
    const measured = meanRunLength(shift, h, shift === 0 ? 2500 : 8000);
    expect(Math.abs(measured / siegmund(shift, h) - 1)).toBeLessThan(shift === 0 ? 0.06 : 0.04);
  });
});
