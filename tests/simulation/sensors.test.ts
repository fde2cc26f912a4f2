import { mean, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { Random } from '../../src/base/random.ts';
import { DEFAULT_BOTTLE } from '../../src/simulation/bottle.ts';
import { exactCalibration, goodCalibration } from '../../src/simulation/calibration.ts';
import { PLAIN_PARAMETERS } from '../../src/simulation/defaults.ts';
import { drawSleeve } from '../../src/simulation/drawn-sleeve.ts';
import { Accelerometer, Cells, Gyroscope, type SensorParameters } from '../../src/simulation/sensors.ts';
import { inverse, type Triple, times } from '../../src/simulation/vectors.ts';

const STEP_SEC = 0.0125;
const sleeve = drawSleeve(new Random(1, 'sleeve'));
const quiet: SensorParameters = {
  ...PLAIN_PARAMETERS.sensors,
  cellNoiseScale: 0,
  zeroDriftGramsPerSqrtMin: 0,
  accelerometerNoiseMg: 0,
};
const exact = exactCalibration(sleeve, DEFAULT_BOTTLE, 'test');

const loadsOf = (counts: Triple): Triple =>
  times(exact.loadPerCount, counts.map((count, i) => count - exact.zeroCounts[i]!) as Triple);

describe('cells', () => {
  it('read, through the exact calibration, the loads that were put on', () => {
    const loads: Triple = [2.6, -0.7, 0.21];
    const { counts, saturated } = new Cells(sleeve, quiet, 1, STEP_SEC).read(loads);
    const read = loadsOf(counts);
    // One count is 3–4 µN; rounding leaves less than two of them, and a tenth of that in N·m.
    expect(Math.abs(read[0] - loads[0])).toBeLessThan(8e-6);
    expect(Math.abs(read[1] - loads[1])).toBeLessThan(8e-6);
    expect(Math.abs(read[2] - loads[2])).toBeLessThan(8e-7);
    expect(saturated).toEqual([false, false, false]);
  });

  it('end at 24 bits and say so', () => {
    const { counts, saturated } = new Cells(sleeve, quiet, 1, STEP_SEC).read([0, 60, 0]);
    expect(counts[0]).toBe(2 ** 23 - 1);
    expect(saturated).toEqual([true, false, false]);
  });

  it('drift as a random walk: 0.12 g in a minute, twice that in four', () => {
    const drifting = { ...quiet, zeroDriftGramsPerSqrtMin: 0.12 };
    const spreadAfter = (minutes: number): number => {
      const ends = Array.from({ length: 60 }, (_, seed) => {
        const cells = new Cells(sleeve, drifting, seed, 0.5);
        let counts: Triple = [0, 0, 0];
        for (let i = 0; i < minutes * 120; i++) counts = cells.read([0, 0, 0]).counts;
        return (loadsOf(counts)[1] / 9.80665) * 1000;
      });
      return standardDeviation(ends);
    };
    // 60 draws: standard error of a standard deviation is 1/√120 = 9 %.
    expect(Math.abs(spreadAfter(1) - 0.12)).toBeLessThan(0.12 * 0.27);
    expect(Math.abs(spreadAfter(4) - 0.24)).toBeLessThan(0.24 * 0.27);
  });

  it('have noise of about 0.1 g that is not white', () => {
    const cells = new Cells(
      sleeve,
      { ...PLAIN_PARAMETERS.sensors, zeroDriftGramsPerSqrtMin: 0 },
      5,
      STEP_SEC,
    );
    const grams = Array.from(
      { length: 8000 },
      () => (loadsOf(cells.read([0, 0, 0]).counts)[1] / 9.80665) * 1000,
    );
    const spread = standardDeviation(grams);
    expect(spread).toBeGreaterThan(0.08);
    expect(spread).toBeLessThan(0.13);
    const steps = grams.slice(1).map((gram, i) => gram - grams[i]!);
    // White noise would have steps √2 times as large as itself.
    expect(standardDeviation(steps)).toBeLessThan(spread * 1.1);
  });

  it('creep: part of a load comes late', () => {
    const cells = new Cells(sleeve, { ...quiet, creepShare: 0.002, creepTauSec: 10 }, 1, STEP_SEC);
    const atOnce = loadsOf(cells.read([0, 2, 0]).counts)[1];
    let later = atOnce;
    for (let i = 0; i < 80 * 60; i++) later = loadsOf(cells.read([0, 2, 0]).counts)[1];
    expect(atOnce).toBeCloseTo(2 * 0.998, 4);
    expect(later).toBeCloseTo(2, 4);
  });
});

describe('accelerometer', () => {
  it('shows 8192 counts for 1 g, through its bias and scale', () => {
    const counts = new Accelerometer(sleeve, quiet, 1, STEP_SEC).read([0.5, -0.3, 0.81]);
    const { biasG, scale } = exact.accelerometer;
    const felt = counts.map((count, i) => (count / 8192 - biasG[i]!) / scale[i]!);
    expect(felt[0]).toBeCloseTo(0.5, 3);
    expect(felt[1]).toBeCloseTo(-0.3, 3);
    expect(felt[2]).toBeCloseTo(0.81, 3);
  });
});

describe('calibration', () => {
  it('has small errors of the stated size', () => {
    const many = Array.from({ length: 200 }, (_, seed) => goodCalibration(exact, new Random(seed), 1));
    const spread = (pick: (calibration: typeof exact) => number): number =>
      standardDeviation(many.map((calibration) => pick(calibration) - pick(exact)));
    expect(spread((c) => c.loadPerCount[1][0]) / exact.loadPerCount[1][0]).toBeCloseTo(0.0005, 3.7);
    expect(spread((c) => c.bottle.emptyCentreZMm)).toBeCloseTo(0.4, 0.9);
    expect(spread((c) => c.bottle.innerProfileMm[0]![0])).toBeCloseTo(0.4, 0.9);
    expect(spread((c) => c.accelerometer.biasG[0])).toBeCloseTo(0.0015, 3);
    expect(mean(many.map((c) => c.bottle.emptyMassGrams))).toBeCloseTo(168, 1);
    expect(goodCalibration(exact, new Random(1), 0)).toEqual(exact);
  });
});

describe('inverse', () => {
  it('undoes a matrix, and refuses one that cannot be undone', () => {
    const load: Triple = [1, 2, 3];
    const back = times(inverse(sleeve.loadPerCount), times(sleeve.loadPerCount, load));
    back.forEach((entry, i) => {
      expect(entry).toBeCloseTo(load[i]!, 8);
    });
    expect(() =>
      inverse([
        [1, 2, 3],
        [2, 4, 6],
        [0, 0, 1],
      ]),
    ).toThrow(RangeError);
  });
});

describe('a sleeve that warms up', () => {
  const MINUTES = 18;

  it('moves each zero by a gram, up or down, most of it within six minutes or so', () => {
    for (let seed = 0; seed < 6; seed++) {
      const cells = new Cells(sleeve, { ...quiet, warmingGrams: 1 }, seed, 0.5);
      const grams: number[][] = [];
      for (let i = 0; i < MINUTES * 120; i++) {
        const { counts } = cells.read([0, 0, 0]);
        grams.push(counts.map((count, k) => count - sleeve.zeroCounts[k]!));
      }
      const at = (sec: number, cell: number): number => Math.abs(grams[sec * 2]![cell]!);
      for (let cell = 0; cell < 3; cell++) {
        // Exponential: 1 − 1/e after one time constant, 95 % after three.
        expect(at(360, cell) / at(MINUTES * 60 - 1, cell)).toBeCloseTo(0.632 / 0.95, 2);
      }
      const axialGrams = (at(MINUTES * 60 - 1, 0) * sleeve.loadPerCount[1][0] * 1000) / 9.80665;
      expect(axialGrams).toBeCloseTo(0.95, 2);
    }
  });

  it('moves its accelerometer by 5, 5 and 10 mg', () => {
    const drifting = { ...quiet, accelerometerDriftMg: [5, 5, 10] as const };
    const accelerometer = new Accelerometer(sleeve, drifting, 3, 0.5);
    const first = accelerometer.read([0, 0, 1]);
    let last = first;
    for (let i = 0; i < 60 * 120; i++) last = accelerometer.read([0, 0, 1]);
    const mg = last.map((count, axis) => Math.abs(count - first[axis]!) / 8.192);
    expect(mg[0]).toBeCloseTo(5, 0);
    expect(mg[1]).toBeCloseTo(5, 0);
    expect(mg[2]).toBeCloseTo(10, 0);
  });
});

describe('gyroscope', () => {
  const steady = { ...quiet, gyroscopeNoiseDps: 0, gyroscopeDriftDpsPerSqrtMin: 0 };

  it('shows 65.5 counts for 1 °/s, through its bias and scale, and ends at 16 bits', () => {
    const constants = { biasDps: [1, -2, 0.5] as Triple, scale: [1.01, 1, 0.99] as Triple };
    const gyroscope = new Gyroscope(constants, steady, 1, STEP_SEC);
    const rad = (deg: number): number => (deg * Math.PI) / 180;
    expect(gyroscope.read([rad(10), rad(-20), 0])).toEqual([
      Math.round((10.1 + 1) * 65.5),
      Math.round((-20 - 2) * 65.5),
      Math.round(0.5 * 65.5),
    ]);
    expect(gyroscope.read([rad(600), rad(-600), 0])).toEqual([32767, -32768, Math.round(0.5 * 65.5)]);
  });

  it('drifts as a random walk of 0.02 °/s in a minute', () => {
    const constants = { biasDps: [0, 0, 0] as Triple, scale: [1, 1, 1] as Triple };
    const ends = Array.from({ length: 60 }, (_, seed) => {
      const drifting = { ...steady, gyroscopeDriftDpsPerSqrtMin: 0.2 };
      const gyroscope = new Gyroscope(constants, drifting, seed, 0.5);
      let shown: Triple = [0, 0, 0];
      for (let i = 0; i < 120; i++) shown = gyroscope.read([0, 0, 0]);
      return shown[1] / 65.5;
    });
    // Ten times the ordinary walk, so that a count does not matter; 60 draws: standard error 9 %.
    expect(Math.abs(standardDeviation(ends) - 0.2)).toBeLessThan(0.2 * 0.27);
  });
});
