/**
 * The estimate on feeds by a second simulator, made apart from this project: rigid-body turning, ringing milk, lips behind the tip, a jaw's couple, late and warming
 * sensors, in ordinary amounts. Limits in mL/min and mL are the reference filter's of the bound study that came with it (first 110 s are harder than its whole feeds,
 * since nothing is known of a suck yet: there the limit is the share of the best constant). What must hold of stated deviations: the sleeve contract, section 6.
 */
import { describe, expect, it } from 'vitest';
import { replay } from '../../src/feed/replay.ts';
import type { Calibration } from '../../src/sensing/index.ts';
import { readSecond, type SECOND_SIMULATOR, samplesOf } from '../support/captures.ts';
import { feedSpan, judge, truthAt } from '../support/judge.ts';
import { sense } from '../support/sensed-feed.ts';

const LIMITS: Record<
  (typeof SECOND_SIMULATOR)[number],
  { shareOfBestConstant: number; milkRmsMl: number; spiltMl: number }
> = {
  'g-dumped': { shareOfBestConstant: 0.9, milkRmsMl: 2, spiltMl: 0 },
  'r-letdown': { shareOfBestConstant: 0.8, milkRmsMl: 2, spiltMl: 0 },
  'g-spill': { shareOfBestConstant: 0.5, milkRmsMl: 1.1, spiltMl: 12 },
  'r-vary': { shareOfBestConstant: 1, milkRmsMl: 1.5, spiltMl: 0 },
};

function firstTiltDownSec(bytes: Uint8Array, calibration: Calibration): number {
  const { result } = replay([bytes], { calibration, portionMl: null, refinable: false });
  return result.cues.find(({ kind }) => kind === 'tilt-down')?.atSec ?? Number.POSITIVE_INFINITY;
}

describe.each(Object.entries(LIMITS))('%s', (name, limits) => {
  const { bytes, calibration, truth } = readSecond(name as keyof typeof LIMITS);
  const { moments, refined } = sense(samplesOf(bytes), calibration);
  const judged = judge(moments, truth);
  const { firstSec, lastSec } = feedSpan(truth);
  const rows = moments.filter(
    ({ atSec, milkMl, flowMlPerMin }) =>
      atSec > firstSec && atSec < lastSec && milkMl !== null && flowMlPerMin !== null,
  );
  const ratios = (of: 'milk' | 'flow'): number[] =>
    rows.map((m) =>
      of === 'milk'
        ? (m.milkMl! - truthAt(truth, truth.milkMl, m.atSec)) / m.milkSdMl!
        : (m.flowMlPerMin! - truthAt(truth, truth.flow10MlPerMin, m.atSec)) / m.flowSdMlPerMin!,
    );

  it('knows flow and milk', () => {
    expect(judged.flowRmsMlPerMin).toBeLessThan(limits.shareOfBestConstant * judged.bestConstantRmsMlPerMin);
    expect(judged.milkRmsMl).toBeLessThan(limits.milkRmsMl);
  });

  it.each(['milk', 'flow'] as const)('says how well it knows the %s', (of) => {
    const all = ratios(of);
    expect(all.length).toBeGreaterThan(1500);
    expect(all.filter((ratio) => Math.abs(ratio) <= 2).length / all.length).toBeGreaterThan(0.9);
    expect(all.reduce((sum, ratio) => sum + ratio * ratio, 0) / all.length).toBeLessThan(2);
  });

  it('is unsure while milk comes fast and the baby has only begun, and at no other time', () => {
    const early = rows.filter(({ atSec }) => atSec < firstSec + 60 && atSec > firstSec + 15);
    const brisk = early.filter(({ flowMlPerMin }) => flowMlPerMin! > 14);
    expect(brisk.every(({ quality, reason }) => quality === 'degraded' && reason === 'sucks')).toBe(true);
    const others = rows.filter((row) => row.flowMlPerMin! <= 14);
    expect(others.length).toBeGreaterThan(100);
    expect(others.every(({ quality }) => quality === 'good')).toBe(true);
    expect(refined.quality!.every((quality) => quality === 'good')).toBe(true);
  });

  it('tells of "too fast" within 8 s of the ideal buckets in rows that are good', () => {
    const idealSec = Math.min(...truth.buckets.flatMap(({ crossings }) => crossings.slice(0, 1)));
    const firstCueSec = firstTiltDownSec(bytes, calibration);
    if (!Number.isFinite(idealSec)) return expect(firstCueSec).toBe(Number.POSITIVE_INFINITY);
    const good = [idealSec, firstCueSec].some(
      (sec) => moments.find(({ atSec }) => atSec >= sec)?.quality === 'good',
    );
    if (good) expect(Math.abs(firstCueSec - idealSec)).toBeLessThan(8);
  });

  it('books what was spilt, and nothing that was not', () => {
    expect(Math.abs(refined.totals.spiltMl - limits.spiltMl)).toBeLessThan(limits.spiltMl > 0 ? 1 : 1e-9);
    expect(refined.totals.addedMl).toBe(0);
  });
});
