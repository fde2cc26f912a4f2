import { describe, expect, it } from 'vitest';
import { TruthWriter } from '../../src/simulation/truth.ts';

/** A made-up feed with a known flow, mL/min, told 80 times a second. */
function written(minutes: number, flowAt: (sec: number) => number) {
  const writer = new TruthWriter();
  let intakeMl = 0;
  for (let i = 0; i <= minutes * 60 * 80; i++) {
    const atSec = i / 80;
    if (i > 0) intakeMl += flowAt(atSec) / 60 / 80;
    writer.step(atSec, 1 / 80, { milkMl: 300 - intakeMl, intakeMl, spiltMl: 0, addedMl: 0 }, true, true);
  }
  return writer.read();
}

describe('truth beside a feed', () => {
  it('has steady flow as the contract defines it', () => {
    const truth = written(1, () => 12);
    // 6 × (intake(t) − intake(t − 10 s)), intake before the start being 0 (sleeve contract, section 6).
    expect(truth.flow10MlPerMin[4 * 5]).toBeCloseTo(6, 6);
    expect(truth.flow10MlPerMin[4 * 30]).toBeCloseTo(12, 6);
    expect(truth.flow10CentredMlPerMin[4 * 30]).toBeCloseTo(12, 6);
    expect(truth.atSec[4 * 30]).toBe(30);
  });

  it('centres one flow on the moment and ends the other there', () => {
    const truth = written(1, (sec) => (sec > 30 ? 12 : 0));
    expect(truth.flow10MlPerMin[4 * 30]).toBeCloseTo(0, 6);
    expect(truth.flow10CentredMlPerMin[4 * 30]).toBeCloseTo(6, 6);
  });

  it('crosses the pace buckets when arithmetic says so', () => {
    const { buckets } = written(2, () => 24);
    // Worked: 6 mL at 24 − 14 = 10 mL/min takes 36 s; 18 mL at 24 − 8 = 16 mL/min takes 67.5 s.
    expect(buckets[1]!.crossings[0]).toBeCloseTo(36, 1);
    expect(buckets[0]!.crossings[0]).toBeCloseTo(67.5, 1);
    expect(buckets[1]!.crossings).toHaveLength(1);
    expect(buckets[0]!.peakMl).toBeCloseTo(32, 0);
  });

  it('crosses again only after half has drained', () => {
    // Up to 10 mL ahead at 60 s, down by 14 mL/min for 20 s to 5.3 (not below 3), up again: no second crossing.
    const shallow = written(3, (sec) => (sec < 60 ? 24 : sec < 80 ? 0 : 24)).buckets[1]!;
    expect(shallow.crossings).toHaveLength(1);
    const deep = written(3, (sec) => (sec < 60 ? 24 : sec < 100 ? 0 : 24)).buckets[1]!;
    expect(deep.crossings).toHaveLength(2);
  });
});
