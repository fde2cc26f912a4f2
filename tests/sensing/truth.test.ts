import { describe, expect, it } from 'vitest';
import { createSensor, refineFeed, type SensedMoment, senseSample } from '../../src/sensing/index.ts';
import { CAPTURE_NAMES, readFixture, samplesOf } from '../support/captures.ts';
import { bestConstantRms, feedSpan, judge, truthAt } from '../support/judge.ts';
import { FIXTURE_LIMITS } from '../support/limits.ts';

describe.each(CAPTURE_NAMES)('sensing on the first 90 s of "%s", against its truth', (name) => {
  const { bytes, calibration, truth } = readFixture(name);
  const sensor = createSensor(calibration);
  const moments: SensedMoment[] = [];
  for (const sample of samplesOf(bytes)) {
    const moment = senseSample(sensor, sample);
    if (moment) moments.push(moment);
  }
  const judged = judge(moments, truth);
  const limits = FIXTURE_LIMITS[name];

  it('gives a moment every 50 ms', () => {
    expect(moments).toHaveLength(1800);
    expect(moments.at(-1)!.atSec).toBeCloseTo(90, 0);
  });

  it('measures the flow, and far better than the best constant', () => {
    expect(judged.flowRmsMlPerMin).toBeLessThan(limits.flowRmsMlPerMin);
    expect(judged.flowRmsMlPerMin).toBeLessThan(limits.shareOfBestConstant * judged.bestConstantRmsMlPerMin);
  });

  it('weighs the milk, in the mouth and out of it', () => {
    expect(judged.milkRmsMl).toBeLessThan(limits.milkRmsMl);
  });

  it('knows the intake', () => {
    expect(judged.intakeWorstMl).toBeLessThan(limits.intakeWorstMl);
  });

  it('knows when the teat is in the mouth', () => {
    expect(judged.teatRight).toBeGreaterThan(limits.teatRight);
    for (const delay of judged.latchDelaySec) expect(delay).toBeLessThan(1);
  });

  it('counts the sucks', () => {
    expect(Math.abs(judged.suckCount - truth.suckTimes.length)).toBeLessThanOrEqual(2);
  });

  it('states an uncertainty that holds', () => {
    const { firstSec } = feedSpan(truth);
    const errors = moments
      .filter((m) => m.atSec > firstSec + 10)
      .map((m) => Math.abs(m.milkMl! - truthAt(truth, truth.milkMl, m.atSec)) / m.milkSdMl!);
    const within = errors.filter((e) => e < 3).length / errors.length;
    expect(within).toBeGreaterThan(0.95);
  });

  it('refines: flow better than the best constant, milk and intake true', () => {
    const refined = refineFeed(sensor);
    const { firstSec, lastSec } = feedSpan(truth);
    let sum = 0;
    let count = 0;
    for (let i = 0; i < refined.atSec.length; i++) {
      const at = refined.atSec[i]!;
      // The last 5 s have no second half of their window.
      if (at < firstSec || at > lastSec - 5) continue;
      sum += (refined.flowMlPerMin[i]! - truthAt(truth, truth.flow10CentredMlPerMin, at)) ** 2;
      count += 1;
    }
    expect(Math.sqrt(sum / count)).toBeLessThan(
      limits.shareOfBestConstant * bestConstantRms(truth, truth.flow10CentredMlPerMin),
    );
    expect(Math.abs(refined.totals.intakeMl - truth.intakeSoFarMl.at(-1)!)).toBeLessThan(
      limits.intakeWorstMl,
    );
    const { totals, milkMl } = refined;
    const lost = milkMl[0]! - milkMl.at(-1)!;
    expect(Math.abs(totals.intakeMl + totals.spiltMl - totals.addedMl - lost)).toBeLessThan(0.1);
  });
});
