import { mean, standardDeviation } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { DEFAULT_BOTTLE } from '../../src/simulation/bottle.ts';
import { exactCalibration, goodCalibration } from '../../src/simulation/calibration.ts';
import { DEFAULT_PARAMETERS } from '../../src/simulation/parameters.ts';
import { Random } from '../../src/simulation/random.ts';
import { Accelerometer, Cells, drawSleeve, type SensorParameters } from '../../src/simulation/sensors.ts';
import { inverse, type Triple, times } from '../../src/simulation/vectors.ts';

const STEP_SEC = 0.0125;
const sleeve = drawSleeve(new Random(1, 'sleeve'));
const quiet: SensorParameters = {
  ...DEFAULT_PARAMETERS.sensors,
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
      { ...DEFAULT_PARAMETERS.sensors, zeroDriftGramsPerSqrtMin: 0 },
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
  it('is good, not perfect: small errors of the stated size', () => {
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
