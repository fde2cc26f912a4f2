import { mean, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { laidOver, type Overrides } from '../../src/simulation/parameters.ts';
import {
  MOTION_CHIP,
  PLAIN,
  REAL_EFFECTS,
  REAL_HAND,
  type RealEffect,
  realHand,
} from '../../src/simulation/real-hand.ts';
import type { ScenarioName } from '../../src/simulation/scenarios.ts';
import { createSimulatedFeed } from '../../src/simulation/simulated-feed.ts';
import { HARDSHIPS, MOTION_FAULTS, type MotionFault } from '../support/hardships.ts';

const LASTS_SEC = 90;
const GYROSCOPE: Overrides = { sensors: { gyroscope: true } };

/** Columns of a whole feed: what the sleeve measures, and the truth. */
function play(overrides: Overrides, scenario: ScenarioName = 'spill', seed = 6, lastsSec = LASTS_SEC) {
  const feed = createSimulatedFeed({ scenario, seed, overrides: laidOver(PLAIN, overrides) });
  const shown = { cells: [] as number[], accelerometer: [] as number[], gyroscope: [] as number[] };
  const loads: number[] = [];
  const tilts: number[] = [];
  const sequences: { sample: number[]; motion: number[] } = { sample: [], motion: [] };
  const firstMl = feed.parameters.milkMl;
  for (let i = 0; i < lastsSec * 80; i++) {
    const { sample, motion, truth } = feed.step();
    loads.push(...truth.loads);
    tilts.push(truth.tiltDeg);
    if (sample) {
      shown.cells.push(...sample.cells);
      shown.accelerometer.push(...sample.accelerometer);
      sequences.sample.push(sample.sequence);
    }
    if (!motion) continue;
    shown.gyroscope.push(...motion.gyroscope);
    sequences.motion.push(motion.sequence);
  }
  const { truth, calibration, exactCalibration } = feed;
  return { shown, loads, tilts, sequences, firstMl, truth, calibration, exactCalibration };
}

const ideal = play(GYROSCOPE);
const differs = (a: readonly number[], b: readonly number[]): boolean => a.some((entry, i) => entry !== b[i]);

type Changed = 'motion' | 'loads' | 'cells' | 'accelerometer' | 'gyroscope';

/** What each effect must change; nothing else may change. Motion: tilt, and with it the flow. */
const CHANGES: Record<RealEffect, readonly Changed[]> = {
  'turning hand': ['motion', 'loads', 'cells', 'accelerometer', 'gyroscope'],
  'ringing milk': ['loads', 'cells'],
  'lips behind the tip': ['loads', 'cells'],
  'jaw couple': ['loads', 'cells'],
  'lifting mouth': ['loads', 'cells'],
  'touched collar': ['loads', 'cells'],
  'late readings': ['cells', 'accelerometer'],
  'ordinary creep': ['cells'],
  'warming cells': ['cells'],
  'drifting accelerometer': ['accelerometer'],
};

/** These two move the milk's surface at the hole, and the caregiver reacts to what was drunk. */
const MOVES_MILK: ReadonlySet<RealEffect> = new Set<RealEffect>(['turning hand', 'ringing milk']);

describe('each effect of a real hand, mouth and sleeve', () => {
  it.each(REAL_EFFECTS)('"%s" changes what it should and nothing else', (name) => {
    const with1 = play(laidOver(REAL_HAND[name](1), GYROSCOPE));
    const changed: Changed[] = [];
    if (!MOVES_MILK.has(name)) expect(with1.truth).toEqual(ideal.truth);
    if (name === 'turning hand' && differs(with1.tilts, ideal.tilts)) changed.push('motion');
    if (differs(with1.loads, ideal.loads)) changed.push('loads');
    for (const part of ['cells', 'accelerometer', 'gyroscope'] as const)
      if (differs(with1.shown[part], ideal.shown[part])) changed.push(part);
    // Ringing milk changes the flow and so the time at which the bottle is lowered: late in the feed the hand may differ.
    const foreseen = changed.filter((part) => !(name === 'ringing milk' && part === 'accelerometer'));
    expect(foreseen).toEqual(CHANGES[name]);
  });

  it.each(REAL_EFFECTS)('"%s" of size zero changes nothing', (name) => {
    expect(play(laidOver(REAL_HAND[name](0), GYROSCOPE)).shown).toEqual(ideal.shown);
  });

  it.each<[RealEffect, number]>([
    ['ordinary creep', 0.05],
    ['warming cells', 0.05],
  ])('"%s" draws no noise of its own: the readings differ by something slow', (name, grams) => {
    const slow = play(laidOver(REAL_HAND[name](1), GYROSCOPE));
    // Axial cell; 1 g is about 2450 counts at 4 µN a count.
    const off = slow.shown.cells
      .filter((_, i) => i % 3 === 0)
      .map((count, i) => count - ideal.shown.cells[3 * i]!);
    const steps = off.slice(1).map((count, i) => count - off[i]!);
    expect(standardDeviation(steps) / 2450).toBeLessThan(grams / 10);
    expect(Math.max(...off.map(Math.abs)) / 2450).toBeGreaterThan(grams);
  });

  it('may be laid over each other, and of some another size', () => {
    const laid = realHand(1, { 'jaw couple': 2.5, 'ordinary creep': 0 });
    expect(laid).toMatchObject({
      baby: { jawCoupleNmm: 5, lipsBehindMm: 5 },
      hand: { turns: true },
      sensors: { creepShare: 0, warmingGrams: 1 },
    });
    expect(HARDSHIPS['hard jaw couple']).toEqual({ baby: { jawCoupleNmm: 5 } });
  });
});

describe('all effects of a real hand together', () => {
  it.each<[ScenarioName, number]>([
    ['paced', 1],
    ['tipped-up', 2],
    ['spill', 2],
    ['refill', 1],
    ['second-bottle', 2],
  ])('loses and makes no milk: %s, size %d', (scenario, size) => {
    const { truth, firstMl } = play(realHand(size), scenario, 4, 420);
    const lastMl = truth.milkMl.at(-1)!;
    // Rows of milk come four times a second, totals to the last step: up to 0.25 s of flow apart.
    expect(Math.abs(truth.intakeMl + truth.spiltMl - truth.addedMl - (firstMl - lastMl))).toBeLessThan(0.2);
    expect(truth.intakeMl).toBeGreaterThan(5);
  });

  it('of sensors and mouth leaves the intake as it is, to the last drop', () => {
    const all = realHand(1, { 'turning hand': 0, 'ringing milk': 0 });
    expect(play(all, 'tipped-up').truth).toEqual(play({}, 'tipped-up').truth);
  });

  it('of motion changes the intake by what the hand does, not by more', () => {
    const still = play({}, 'tipped-up', 3, 240).truth.intakeMl;
    const moving = play(realHand(1), 'tipped-up', 3, 240).truth.intakeMl;
    expect(Math.abs(moving / still - 1)).toBeLessThan(0.05);
  });
});

describe('a gyroscope', () => {
  const turning = laidOver(realHand(1), GYROSCOPE);
  const whole = play(turning);
  const dps = (counts: readonly number[], axis: number, calibration = whole.exactCalibration): number[] =>
    counts
      .filter((_, i) => i % 3 === axis)
      .map(
        (count) =>
          (count / 65.5 - calibration.gyroscope!.biasDps[axis]!) / calibration.gyroscope!.scale[axis]!,
      );

  it('is told right after its SAMPLE, with the same number; a sleeve without one tells nothing', () => {
    expect(whole.sequences.motion).toEqual(whole.sequences.sample);
    expect(play(realHand(1)).sequences.motion).toEqual([]);
    expect(play(realHand(1)).calibration.gyroscope).toBeUndefined();
  });

  it('shows minus the rate of the tilt about y', () => {
    const shown = dps(whole.shown.gyroscope, 1);
    const rates = whole.tilts.map(
      (tilt, i) => ((whole.tilts[i + 1] ?? tilt) - (whole.tilts[i - 1] ?? tilt)) * 40,
    );
    // Rolled by some 6° and read 5 ms late: the two agree to some 0.5 °/s where the hand makes 10.
    const off = shown.map((rate, i) => rate + rates[i]!);
    expect(standardDeviation(rates)).toBeGreaterThan(4);
    expect(standardDeviation(off)).toBeLessThan(0.6);
  });

  it('is calibrated to about 0.1 °/s, its bias within ±3 °/s', () => {
    const many = Array.from({ length: 40 }, (_, seed) => play(turning, 'paced', seed, 0.1));
    const off = many.flatMap(({ calibration, exactCalibration }) =>
      calibration.gyroscope!.biasDps.map((bias, i) => bias - exactCalibration.gyroscope!.biasDps[i]!),
    );
    const biases = many.flatMap(({ exactCalibration }) => exactCalibration.gyroscope!.biasDps);
    // 120 draws: standard error of a standard deviation 6 %.
    expect(Math.abs(standardDeviation(off) - 0.1)).toBeLessThan(0.025);
    expect(Math.max(...biases.map(Math.abs))).toBeLessThan(3);
    expect(Math.max(...biases.map(Math.abs))).toBeGreaterThan(2.5);
    expect(Math.abs(mean(biases))).toBeLessThan(0.5);
  });

  it('may sit beside the axis with its accelerometer: the calibration says where', () => {
    const beside = play(laidOver(realHand(1), MOTION_CHIP));
    expect(beside.calibration.accelerometer.positionMm).toEqual([-41.6, 0, 65]);
    expect(beside.truth).toEqual(whole.truth);
    expect(beside.shown.gyroscope).toEqual(whole.shown.gyroscope);
    expect(differs(beside.shown.accelerometer, whole.shown.accelerometer)).toBe(true);
  });

  it('rests at its bias while the bottle stands', () => {
    const { biasDps } = whole.exactCalibration.gyroscope!;
    for (let axis = 0; axis < 3; axis++) {
      const standing = dps(whole.shown.gyroscope, axis).slice(0, 400);
      expect(Math.abs(mean(standing))).toBeLessThan(0.05);
      expect(Math.abs(standardDeviation(standing) - 0.05)).toBeLessThan(0.015);
      expect(Math.abs(biasDps[axis]!)).toBeGreaterThan(0.01);
    }
  });

  describe('out of order', () => {
    const spoilt = (fault: MotionFault) => play(laidOver(turning, MOTION_FAULTS[fault]));
    const during = 3 * 80 * 60;

    it('stuck repeats its value without a flag', () => {
      const { shown } = spoilt('gyroscope stuck');
      const values = new Set(shown.gyroscope.slice(3 * 80 * 41).filter((_, i) => i % 3 === 1));
      expect(values.size).toBe(1);
      expect(new Set(whole.shown.gyroscope.filter((_, i) => i % 3 === 1)).size).toBeGreaterThan(500);
    });

    it('saturated is at the end of its range', () => {
      expect(spoilt('gyroscope saturated').shown.gyroscope.slice(during, during + 3)).toEqual([
        32767, 32767, 32767,
      ]);
    });

    it('swapped and turned is the same numbers elsewhere', () => {
      const [x, y, z] = whole.shown.gyroscope.slice(during);
      expect(spoilt('gyroscope axes swapped').shown.gyroscope.slice(during, during + 3)).toEqual([y, x, z]);
      expect(spoilt('gyroscope sign turned').shown.gyroscope.slice(during, during + 3)).toEqual([x, -y!, z]);
    });

    it('MOTION comes without its SAMPLE, one in ten', () => {
      const { sequences, truth } = spoilt('motion without its sample');
      const known = new Set(sequences.sample);
      const alone = sequences.motion.filter((sequence) => !known.has(sequence)).length;
      expect(alone).toBe((LASTS_SEC - 40) * 8);
      expect(truth.frames).toBe(sequences.sample.length);
    });

    it('the calibration says 12 mm, the accelerometer sits at 70', () => {
      const wrong = spoilt('wrong place of the accelerometer');
      expect(wrong.calibration.accelerometer.positionMm).toEqual([0, 0, 12]);
      const there = play(laidOver(turning, { sensors: { accelerometerMm: [0, 0, 70] } }));
      expect(wrong.shown).toEqual(there.shown);
      expect(there.calibration.accelerometer.positionMm).toEqual([0, 0, 70]);
      expect(differs(there.shown.accelerometer, whole.shown.accelerometer)).toBe(true);
      expect(there.truth).toEqual(whole.truth);
    });

    it('100 ms late it shows what was 95 ms before', () => {
      const late = dps(spoilt('gyroscope 100 ms late').shown.gyroscope, 1);
      const soon = dps(whole.shown.gyroscope, 1);
      // 95 ms are 7.6 samples.
      const apart = (lag: number): number =>
        standardDeviation(soon.slice(1600, -20).map((rate, i) => rate - late[1600 + i + lag]!));
      expect(apart(8)).toBeLessThan(apart(0) / 3);
    });
  });
});
