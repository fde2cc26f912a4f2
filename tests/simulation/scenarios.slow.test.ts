import { describe, expect, it } from 'vitest';
import type { SeenCue } from '../../src/simulation/caregiver.ts';
import { SCENARIO_NAMES, type ScenarioName } from '../../src/simulation/scenarios.ts';
import type { TruthNow } from '../../src/simulation/truth.ts';
import { type CaptureOptions, type SimulatedCapture, simulateCapture } from '../support/simulated-capture.ts';

const made = new Map<string, SimulatedCapture>();
/** Feeds are made once and shared by the tests. */
function feed(scenario: ScenarioName, more: Partial<CaptureOptions> = {}, key = ''): SimulatedCapture {
  const name = `${scenario} ${key}`;
  const known = made.get(name) ?? simulateCapture({ scenario, seed: 21, ...more });
  made.set(name, known);
  return known;
}

const tiltDownWhileFast = (now: TruthNow): SeenCue | null => {
  // Stands in for pacing: the 14 mL/min bucket over its 6 mL (sleeve contract, section 5).
  ahead = Math.max(0, ahead + (now.intakeMl - lastMl) - (14 / 60) * (now.atSec - lastSec));
  lastMl = now.intakeMl;
  lastSec = now.atSec;
  fast = fast ? ahead > 3 : ahead > 6;
  return fast && now.onMouth ? 'tilt-down' : null;
};
let ahead = 0;
let lastMl = 0;
let lastSec = 0;
let fast = false;
function cued(scenario: ScenarioName, follows: boolean): SimulatedCapture {
  ahead = lastMl = lastSec = 0;
  fast = false;
  return feed(scenario, { follows, cue: tiltDownWhileFast }, `cued ${follows}`);
}

const at = (column: number[], sec: number): number =>
  column[Math.min(Math.round(sec * 4), column.length - 1)]!;
const first = ({ truth }: SimulatedCapture, kind: string): number =>
  truth.events.find((event) => event.kind === kind)!.atSec;

describe.each(SCENARIO_NAMES)('scenario "%s"', (scenario) => {
  it('keeps account of every drop', () => {
    const { truth } = feed(scenario);
    const firstMl = truth.milkMl[0]!;
    expect(Math.min(...truth.milkMl)).toBeGreaterThanOrEqual(0);
    const leftMl = truth.milkMl.at(-1)!;
    expect(truth.intakeMl + truth.spiltMl - truth.addedMl).toBeCloseTo(firstMl - leftMl, 6);
    expect(at(truth.intakeSoFarMl, truth.durationSec)).toBeCloseTo(truth.intakeMl, 1);
  });

  it('runs to its end and stands upright again', () => {
    const { truth } = feed(scenario);
    expect(truth.durationSec).toBeLessThan(45 * 60);
    expect(truth.events.at(-1)!.kind).toBe('end');
    expect(truth.onMouth.at(-1)).toBe(0);
  });

  it('has columns of one length at 4 Hz', () => {
    const { truth } = feed(scenario);
    for (const column of [truth.milkMl, truth.onMouth, truth.intakeSoFarMl, truth.flow10MlPerMin]) {
      expect(column).toHaveLength(truth.atSec.length);
    }
    expect(truth.flow10CentredMlPerMin).toHaveLength(truth.atSec.length);
    expect(truth.atSec[8]).toBe(2);
    expect(truth.atSec.at(-1)!).toBeGreaterThan(truth.durationSec - 0.25);
  });
});

describe('the same seed', () => {
  it('gives the same bytes, another seed others', () => {
    const short = (seed: number): Uint8Array =>
      simulateCapture({ scenario: 'paced', seed, longestSec: 20 }).bytes;
    expect(Buffer.compare(short(4), short(4))).toBe(0);
    expect(Buffer.compare(short(4), short(5))).not.toBe(0);
  });
});

describe('tipped up', () => {
  it('empties four ounces in about five minutes, near 24 mL/min', () => {
    // 120 mL in 5 min is what a tipped-up bottle does (common practice, no source); evidence of that size:
    // 70 sucks/min × 0.30 mL = 21 mL/min at one month (Qureshi 2002).
    const capture = feed('tipped-up');
    const minutes = (first(capture, 'end') - first(capture, 'latch')) / 60;
    expect(capture.truth.intakeMl).toBeCloseTo(120, 6);
    expect(minutes).toBeGreaterThan(4.5);
    expect(minutes).toBeLessThan(5.5);
  });

  it('goes slower, and takes longer, when the caregiver follows', () => {
    const ignoring = cued('tipped-up', false).truth;
    const following = cued('tipped-up', true).truth;
    expect(following.durationSec).toBeGreaterThan(2 * ignoring.durationSec);
    expect(following.buckets[1]!.peakMl).toBeLessThan(9);
    expect(ignoring.buckets[1]!.peakMl).toBeGreaterThan(30);
    const reactionSec = following.atSec.find(
      (sec, row) => sec > following.buckets[1]!.crossings[0]! && following.flow10MlPerMin[row]! < 4,
    );
    expect(reactionSec! - following.buckets[1]!.crossings[0]!).toBeLessThan(20);
  });
});

describe('hurried start', () => {
  it.each([1, 2, 3, 4, 5])('is too fast within 36 s of its start (seed %d)', (seed) => {
    const { truth } = simulateCapture({ scenario: 'hurried-start', seed, longestSec: 45 });
    expect(Math.min(...truth.buckets.flatMap((bucket) => bucket.crossings))).toBeLessThan(36);
  });

  it('is a gentle feed of 15 to 22 minutes once the caregiver follows', () => {
    const { truth } = cued('hurried-start', true);
    expect(truth.durationSec / 60).toBeGreaterThan(13);
    expect(truth.durationSec / 60).toBeLessThan(22);
    // From two minutes on no minute gives more than a third over the 8 mL/min of the slower pace bucket.
    const minuteMl = truth.intakeSoFarMl.map((ml, row, all) => ml - (all[row - 240] ?? 0));
    expect(Math.max(...minuteMl.slice(120 * 4 + 240))).toBeLessThan((8 * 4) / 3);
    expect(truth.buckets[0]!.peakMl).toBeLessThan(12);
    expect(truth.buckets[1]!.crossings).toHaveLength(1);
    // Milk is left: the feed is not urged to its end.
    expect(truth.milkMl.at(-1)!).toBeGreaterThan(8);
  });
});

describe('paced', () => {
  it('stays under both pace buckets, in bursts of 5 to 8 sucks', () => {
    const { truth } = feed('paced');
    for (const bucket of truth.buckets) expect(bucket.crossings).toEqual([]);
    expect(truth.buckets[0]!.peakMl).toBeLessThan(9);
    const mean = truth.intakeMl / (truth.durationSec / 60);
    // Whole-feed mean at the breast 4.1 g/min (from Howie 1981, days 5–7), bottle 5.4 mL/min (from Lucas 1981).
    expect(mean).toBeGreaterThan(3);
    expect(mean).toBeLessThan(6);
  });
});

describe('let-down then slow', () => {
  it('gives half of a side by 2 min and 85 % by 4 min', () => {
    // Lucas, Lucas & Baum 1980, Pediatr Res 14:179 (abstract): 50 % by 2 min, 85 % by 4 min, 132 six-day-olds.
    const capture = feed('let-down');
    const sideMl = 37.5;
    const latchSec = first(capture, 'latch');
    expect(at(capture.truth.intakeSoFarMl, latchSec + 120) / sideMl).toBeGreaterThan(0.45);
    expect(at(capture.truth.intakeSoFarMl, latchSec + 120) / sideMl).toBeLessThan(0.55);
    expect(at(capture.truth.intakeSoFarMl, latchSec + 240) / sideMl).toBeGreaterThan(0.8);
    expect(at(capture.truth.intakeSoFarMl, latchSec + 240) / sideMl).toBeLessThan(0.9);
  });

  it('has its milk in two humps, minutes 0–4 and 15–19', () => {
    // Lucas, Lucas & Baum 1981, Early Hum Dev 5:195 (abstract): 84 % of the feed in 0–4 or 15–19 min.
    const capture = feed('let-down');
    const latchSec = first(capture, 'latch');
    const upTo = (min: number): number => at(capture.truth.intakeSoFarMl, latchSec + min * 60);
    const share = (upTo(4) + upTo(19) - upTo(15)) / capture.truth.intakeMl;
    expect(share).toBeGreaterThan(0.78);
    expect(share).toBeLessThan(0.9);
  });
});

describe('drowsy', () => {
  it('fades and stops with milk left, long before the appetite of a wide-awake baby', () => {
    const { truth } = feed('drowsy');
    expect(truth.milkMl.at(-1)!).toBeGreaterThan(40);
    const suckedIn = (fromMin: number, toMin: number): number =>
      truth.suckTimes.filter((sec) => sec >= fromMin * 60 && sec < toMin * 60).length;
    expect(suckedIn(8, 12)).toBeLessThan(suckedIn(0, 4) / 2);
  });
});

describe('what happens with the teat out', () => {
  it('spill: runs out of the bottle, not into the baby', () => {
    const { truth } = feed('spill');
    expect(truth.spiltMl).toBeGreaterThan(9);
    expect(truth.spiltMl).toBeLessThanOrEqual(12.001);
    const from = truth.events.find((event) => event.kind === 'spill')!.atSec;
    expect(at(truth.intakeSoFarMl, from + 15)).toBe(at(truth.intakeSoFarMl, from + 0.25));
    expect(at(truth.onMouth, from + 5)).toBe(0);
  });

  it('refill: an ounce is poured in', () => {
    const { truth } = feed('refill');
    // 1 US fl oz is 29.57 mL (NIST Handbook 44); the simulated hand pours 30.
    expect(truth.addedMl).toBeCloseTo(30, 1);
  });

  it('second bottle: fuller than the first, and away from the cells while it is changed', () => {
    const { truth, exactCalibration } = feed('second-bottle');
    expect(truth.addedMl).toBeGreaterThan(30);
    expect(Math.max(...truth.milkMl.slice(100))).toBeCloseTo(70, 3);
    expect(exactCalibration.bottle.emptyMassGrams).toBe(168);
  });
});
