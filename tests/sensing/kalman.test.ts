import { KalmanFilter } from 'kalman-filter';
import { describe, expect, it } from 'vitest';
import { intakeSince, keepIntake } from '../../src/sensing/filter/earlier-intakes.ts';
import { correctMilk } from '../../src/sensing/filter/milk-correction.ts';
import {
  createMilkFilter,
  INTAKE,
  MILK,
  predictMilk,
  STATES,
  startMilkFilter,
} from '../../src/sensing/filter/milk-filter.ts';
import { createSensor, senseSample } from '../../src/sensing/index.ts';
import { MILK_NOISE } from '../../src/sensing/noise.ts';
import { readFixture, samplesOf } from '../support/captures.ts';
import { column, type Dense, identity, product, smallestPivot, sum, transposed } from '../support/dense.ts';
import {
  LINEAR_NOISE,
  type ModelStep,
  modelFeed,
  noiseOf,
  runStep,
  SOURCES,
  START_GRAMS,
  startedFilter,
  startOf,
  transitionOf,
} from '../support/milk-model.ts';

const square = (flat: Float64Array): Dense =>
  Array.from({ length: STATES }, (_, i) => [...flat.subarray(i * STATES, (i + 1) * STATES)]);

/**
 * A random walk (variance q a step) seen with noise r settles where p² − q·p − q·r = 0 for the predicted variance p, the algebraic
 * Riccati equation of the scalar case. With q = r it is the golden ratio: p = 1.618 r, gain 0.618. Source: the steady state of the
 * local level model in Durbin & Koopman, Time Series Analysis by State Space Methods (from memory; the equation is derived from the recursion).
 */
describe('the steady state of a random walk seen with noise', () => {
  const stepSec = 0.05;
  it.each([
    { q: 0.09, r: 0.09, name: 'golden ratio' },
    { q: 1e-4, r: 0.64, name: 'slow walk' },
    { q: 4, r: 0.01, name: 'fast walk' },
  ])('is that of the Riccati equation: $name', ({ q, r }) => {
    const filter = createMilkFilter({ ...MILK_NOISE, outWalkGrams: Math.sqrt(q / stepSec) });
    startMilkFilter(filter, 100);
    const row = new Float64Array(STATES);
    row[MILK] = 1;
    let predicted = 0;
    for (let k = 0; k < 4000; k++) {
      predictMilk(filter, { stepSec, inMouth: false, suckUnits: 0, coupleSdGrams: null, outWalkGrams: null });
      predicted = filter.c[0]!;
      correctMilk(filter, row, 0, r);
    }
    const settled = (q + Math.sqrt(q * q + 4 * q * r)) / 2;
    expect(predicted / settled).toBeCloseTo(1, 9);
    expect(filter.c[0]! / r).toBeCloseTo(settled / (settled + r), 9);
    if (q === r) expect(filter.c[0]! / r).toBeCloseTo(0.6180339887, 9);
    const before = filter.x[MILK]!;
    predictMilk(filter, { stepSec, inMouth: false, suckUnits: 0, coupleSdGrams: null, outWalkGrams: null });
    correctMilk(filter, row, 0.01, r);
    expect((filter.x[MILK]! - before) / 0.01).toBeCloseTo(settled / (settled + r), 9);
  });
});

/** Reference: the npm library kalman-filter 2.3, a general matrix implementation. */
describe('the same linear case in a general Kalman library', () => {
  it('gives the same state and covariance at every step', () => {
    const steps = modelFeed(120, 3);
    const { mean, covariance } = startOf(LINEAR_NOISE, START_GRAMS);
    let step: ModelStep = steps[0]!;
    let measurement = step.measurements[0]!;
    const general = new KalmanFilter({
      dynamic: {
        dimension: STATES,
        transition: () => transitionOf(step, LINEAR_NOISE),
        covariance: () => {
          const g = noiseOf(step, LINEAR_NOISE, 0);
          return product(g, transposed(g));
        },
        init: { mean: column(mean), covariance, index: -1 },
      },
      observation: {
        dimension: 1,
        stateProjection: () => [measurement.row],
        covariance: () => [[measurement.variance]],
      },
    });
    const filter = startedFilter();
    let known: ReturnType<typeof general.predict> | undefined;
    let largest = 0;
    for (step of steps) {
      const ratio = runStep(filter, step);
      expect(ratio).toBeLessThan(3);
      known = general.predict({ previousCorrected: known });
      for (measurement of step.measurements) {
        known = general.correct({ predicted: known, observation: [measurement.measured] });
      }
      for (let i = 0; i < STATES; i++) {
        largest = Math.max(largest, Math.abs(filter.x[i]! - known.mean[i]![0]!));
        for (let j = 0; j < STATES; j++) {
          largest = Math.max(largest, Math.abs(filter.c[i * STATES + j]! - known.covariance[i]![j]!));
        }
      }
    }
    expect(filter.x[INTAKE]!).toBeGreaterThan(0.5);
    expect(largest).toBeLessThan(1e-9);
  });
});

/** The textbook form: every earlier intake is a state of its own, and nothing is simplified. */
class AugmentedFilter {
  x: number[];
  c: Dense;
  constructor() {
    const { mean, covariance } = startOf(LINEAR_NOISE, START_GRAMS);
    this.x = mean;
    this.c = covariance;
  }
  run(step: ModelStep): void {
    const extra = this.x.length - STATES;
    const f = identity(STATES + extra);
    transitionOf(step, LINEAR_NOISE).forEach((row, i) => {
      row.forEach((entry, j) => {
        f[i]![j] = entry;
      });
    });
    const g = [
      ...noiseOf(step, LINEAR_NOISE, 0),
      ...Array.from({ length: extra }, () => new Array<number>(SOURCES).fill(0)),
    ];
    this.x = product(f, column(this.x)).flat();
    this.c = sum(product(product(f, this.c), transposed(f)), product(g, transposed(g)));
    for (const { row, measured, variance } of step.measurements) {
      const h = [[...row, ...new Array<number>(extra).fill(0)]];
      const seen = product(this.c, transposed(h));
      const s = product(h, seen)[0]![0]! + variance;
      const error = measured - product(h, column(this.x))[0]![0]!;
      this.x = this.x.map((entry, i) => entry + (seen[i]![0]! / s) * error);
      this.c = this.c.map((line, i) => line.map((entry, j) => entry - (seen[i]![0]! * seen[j]![0]!) / s));
    }
  }
  keepIntake(): void {
    this.c = [...this.c.map((row) => [...row, row[INTAKE]!]), [...this.c[INTAKE]!, this.c[INTAKE]![INTAKE]!]];
    this.x = [...this.x, this.x[INTAKE]!];
  }
  /** Mean and variance of the intake since the `k`th earlier intake. */
  since(k: number): { grams: number; variance: number } {
    const at = STATES + k;
    return {
      grams: this.x[INTAKE]! - this.x[at]!,
      variance: this.c[INTAKE]![INTAKE]! + this.c[at]![at]! - 2 * this.c[INTAKE]![at]!,
    };
  }
}

describe('the intake since a moment ago', () => {
  const filter = startedFilter();
  const augmented = new AugmentedFilter();
  const steps = modelFeed(180, 8);
  const earlierAtSec: number[] = [];
  steps.forEach((step, k) => {
    runStep(filter, step);
    augmented.run(step);
    if (k % 10 !== 9) return;
    earlierAtSec.push(k * 0.05);
    keepIntake(filter, k * 0.05);
    augmented.keepIntake();
  });
  const out = { grams: 0, variance: 0 };

  it('is that of a filter with every earlier intake as a state of its own, mean and variance', () => {
    expect(earlierAtSec).toHaveLength(18);
    earlierAtSec.forEach((atSec, k) => {
      intakeSince(filter, atSec, out);
      const expected = augmented.since(k);
      expect(out.grams).toBeCloseTo(expected.grams, 9);
      expect(out.variance).toBeCloseTo(expected.variance, 9);
    });
    intakeSince(filter, earlierAtSec[5]!, out);
    expect(out.grams).toBeGreaterThan(0.3);
    expect(out.variance).toBeGreaterThan(0.001);
  });

  it('lies on the line between two of them, and starts from the oldest', () => {
    const [from, to] = [augmented.since(6).grams, augmented.since(7).grams];
    intakeSince(filter, earlierAtSec[6]! + 0.1, out);
    expect(out.grams).toBeCloseTo(from + 0.2 * (to - from), 9);
    intakeSince(filter, -5, out);
    expect(out.grams).toBeCloseTo(augmented.since(0).grams, 9);
  });

  it('differs from what was believed then: later measurements correct the past too', () => {
    const believedThen = startedFilter();
    for (const step of steps.slice(0, 60)) runStep(believedThen, step);
    intakeSince(filter, earlierAtSec[5]!, out);
    const asOfNow = filter.x[INTAKE]! - out.grams;
    expect(Math.abs(asOfNow - believedThen.x[INTAKE]!)).toBeGreaterThan(0.01);
  });
});

describe('the covariance', () => {
  it('stays symmetric and positive definite over a feed', () => {
    const { bytes, calibration } = readFixture('poured');
    const sensor = createSensor(calibration, { refinable: false });
    let checked = 0;
    for (const sample of samplesOf(bytes)) {
      const moment = senseSample(sensor, sample);
      if (moment === null || !sensor.weighed || checked++ % 20 !== 0) continue;
      const c = square(sensor.bank.filters[0]!.c);
      for (let i = 0; i < STATES; i++) {
        for (let j = 0; j < i; j++) {
          const size = Math.sqrt(c[i]![i]! * c[j]![j]!);
          expect(Math.abs(c[i]![j]! - c[j]![i]!)).toBeLessThanOrEqual(1e-9 * size + 1e-18);
        }
      }
      // Before the first latch the intake is exactly zero, so its pivot is zero.
      const least = smallestPivot(c);
      if (c[INTAKE]![INTAKE]! > 0) expect(least).toBeGreaterThan(0);
    }
    expect(checked).toBeGreaterThan(1700);
  });
});

it('a measurement far off counts less, but is not thrown away', () => {
  const row = new Float64Array(STATES);
  row[MILK] = 1;
  const pull = (innovation: number): number => {
    const filter = startedFilter();
    correctMilk(filter, row, innovation, 1);
    return filter.x[MILK]! - START_GRAMS;
  };
  const sd = Math.sqrt(LINEAR_NOISE.milkStartSdGrams ** 2 + 1);
  // Up to three standard deviations in full; beyond, S becomes innovation²/9.
  expect(pull(2 * sd) / pull(sd)).toBeCloseTo(2, 9);
  expect(pull(30 * sd)).toBeCloseTo((LINEAR_NOISE.milkStartSdGrams ** 2 * 9) / (30 * sd), 9);
  expect(pull(30 * sd)).toBeLessThan(pull(3 * sd));
});
