import { describe, expect, it } from 'vitest';
import {
  createHistory,
  recordCorrection,
  recordFiltered,
  recordPrediction,
} from '../../src/sensing/filter/history.ts';
import { holdAtLeast } from '../../src/sensing/filter/hold-at-least.ts';
import { INTAKE, MILK, PER_SUCK, STATES } from '../../src/sensing/filter/milk-filter.ts';
import { MILK_NOISE } from '../../src/sensing/noise.ts';
import { smooth } from '../../src/sensing/refine/smoother.ts';
import {
  column,
  type Dense,
  identity,
  inverted,
  lowerRoot,
  product,
  sum,
  transposed,
  zeros,
} from '../support/dense.ts';
import {
  LINEAR_NOISE,
  modelFeed,
  noiseOf,
  runStep,
  SOURCES,
  START_GRAMS,
  startedFilter,
  startOf,
  transitionOf,
} from '../support/milk-model.ts';

const steps = modelFeed(48, 21);

/**
 * All steps at once by weighted least squares. Unknowns: the start and the noise of every step, each of unit variance, so that
 * the normal equations are (I + Σ aᵀa/r)·u = Σ aᵀ·(measured − expected)/r. For a linear case with Gaussian noise their solution is what a fixed-interval
 * smoother must give (Rauch, Tung, Striebel 1965, AIAA J. 3:1445; from memory).
 */
function leastSquares(): {
  mean: number[][];
  variance: number[][];
  takenSd: (from: number, to: number) => number;
} {
  const unknowns = STATES + SOURCES * steps.length;
  const { mean, covariance } = startOf(LINEAR_NOISE, START_GRAMS);
  let expected = column(mean);
  let map = zeros(STATES, unknowns);
  lowerRoot(covariance).forEach((row, i) => {
    row.forEach((entry, j) => {
      map[i]![j] = entry;
    });
  });
  const expectations: Dense[] = [];
  const maps: Dense[] = [];
  let normal = identity(unknowns);
  let right = zeros(unknowns, 1);
  steps.forEach((step, k) => {
    const f = transitionOf(step, LINEAR_NOISE);
    expected = product(f, expected);
    map = product(f, map);
    noiseOf(step, LINEAR_NOISE, 0).forEach((row, i) => {
      row.forEach((entry, j) => {
        map[i]![STATES + SOURCES * k + j] = entry;
      });
    });
    expectations.push(expected);
    maps.push(map.map((row) => [...row]));
    for (const { row, measured, variance } of step.measurements) {
      const seen = product([row], map);
      const error = measured - product([row], expected)[0]![0]!;
      normal = sum(
        normal,
        product(transposed(seen), seen).map((line) => line.map((entry) => entry / variance)),
      );
      right = sum(
        right,
        transposed(seen).map(([entry]) => [(entry! * error) / variance]),
      );
    }
  });
  const spread = inverted(normal);
  const solved = product(spread, right);
  return {
    mean: maps.map((m, k) => sum(expectations[k]!, product(m, solved)).flat()),
    variance: maps.map((m) => product(product(m, spread), transposed(m)).map((row, i) => row[i]!)),
    takenSd: (from, to) => {
      const taken = [maps[to]![INTAKE]!.map((entry, i) => entry - maps[from]![INTAKE]![i]!)];
      return Math.sqrt(product(product(taken, spread), transposed(taken))[0]![0]!);
    },
  };
}

describe('the refined pass', () => {
  const filter = startedFilter();
  const history = createHistory();
  const filtered: { milk: number; intake: number }[] = [];
  for (const step of steps) {
    const ratio = runStep(
      filter,
      step,
      () => recordPrediction(history, filter),
      (h) => recordCorrection(history, filter, h),
    );
    if (ratio > 3) throw new Error('The case is not linear: a measurement was weighed down.');
    recordFiltered(history, filter, 0, 0);
    filtered.push({ milk: filter.x[MILK]!, intake: filter.x[INTAKE]! });
  }
  const smoothed = smooth(history);
  const { mean, variance, takenSd } = leastSquares();

  it('is the least-squares solution of all steps together, in milk and intake', () => {
    for (let k = 0; k < steps.length; k++) {
      expect(smoothed.milkGrams[k]).toBeCloseTo(mean[k]![MILK]!, 6);
      expect(smoothed.intakeGrams[k]).toBeCloseTo(mean[k]![INTAKE]!, 6);
    }
  });

  it('states the uncertainty of that solution', () => {
    for (let k = 0; k < steps.length; k++) {
      expect(smoothed.milkSdGrams[k]).toBeCloseTo(Math.sqrt(variance[k]![MILK]!), 6);
      expect(smoothed.intakeSdGrams[k]).toBeCloseTo(Math.sqrt(Math.max(0, variance[k]![INTAKE]!)), 5);
    }
  });

  it('states the uncertainty of what was taken between two steps, which that of the steps alone does not tell', () => {
    // A window goes from 24 steps before a place to 26 after it, as far as there are steps; places are every second step.
    expect(smoothed.tenSecSdGrams).toHaveLength(24);
    for (const [place, sd] of smoothed.tenSecSdGrams.entries()) {
      const [from, to] = [Math.max(0, 2 * place - 24), Math.min(46, 2 * place + 26)];
      expect([place, sd]).toEqual([place, expect.closeTo(takenSd(from, to), 5)]);
    }
    expect(takenSd(0, 40)).toBeGreaterThan(0.01);
  });

  it('ends where the live filter ends, and differs from it before', () => {
    expect(smoothed.milkGrams.at(-1)).toBeCloseTo(filtered.at(-1)!.milk, 9);
    expect(smoothed.intakeGrams.at(-1)).toBeCloseTo(filtered.at(-1)!.intake, 9);
    expect(Math.abs(smoothed.milkGrams[20]! - filtered[20]!.milk)).toBeGreaterThan(0.05);
  });

  it('knows no intake before the teat was in the mouth', () => {
    const firstIn = steps.findIndex((step) => step.inMouth);
    for (let k = 0; k < firstIn; k++) expect(Math.abs(smoothed.intakeGrams[k]!)).toBeLessThan(1e-6);
    expect(smoothed.intakeGrams.at(-1)).toBeGreaterThan(0.2);
  });

  it('of nothing is nothing', () => {
    expect(smooth(createHistory()).milkGrams).toHaveLength(0);
  });
});

/**
 * The other form of a fixed-interval smoother (Rauch, Tung, Striebel 1965; from memory), with dense matrices: from each row's filtered and the next one's predicted
 * estimate. It needs no word of why an estimate was moved, so it is the reference for milk that was held at none, which least squares does not know.
 */
it('is what the form of Rauch, Tung and Striebel gives where milk and milk per suck were held at a least', () => {
  const filter = startedFilter(MILK_NOISE);
  const history = createHistory();
  const square = (c: Float64Array): Dense =>
    Array.from({ length: STATES }, (_, i) => Array.from(c.slice(i * STATES, (i + 1) * STATES)));
  const known = () => ({ x: column([...filter.x]), c: square(filter.c) });
  const predicted: ReturnType<typeof known>[] = [];
  const filtered: ReturnType<typeof known>[] = [];
  let holds = 0;
  steps.forEach((step, k) => {
    runStep(
      filter,
      step,
      () => {
        recordPrediction(history, filter);
        predicted.push(known());
      },
      (h) => recordCorrection(history, filter, h),
    );
    // In every fifth row the states are held above the estimate, as when a bottle is empty.
    const least = (state: number, more: number) => (k % 5 === 2 ? filter.x[state]! + more : 0);
    const heldMilk = holdAtLeast(filter, MILK, least(MILK, 0.2));
    const heldPerSuck = holdAtLeast(filter, PER_SUCK, least(PER_SUCK, 0.01));
    if (heldMilk > 0 && heldPerSuck > 0) holds += 1;
    recordFiltered(history, filter, heldMilk, heldPerSuck);
    filtered.push(known());
  });
  expect(holds).toBeGreaterThan(5);
  const smoothed = smooth(history);
  let { x, c } = filtered.at(-1)!;
  // Before the teat was in, the intake is exactly zero, and its covariance cannot be inverted.
  const firstIn = steps.findIndex((step) => step.inMouth);
  for (let k = steps.length - 2; k >= firstIn; k--) {
    const here = filtered[k]!;
    const next = predicted[k + 1]!;
    const f = transitionOf(steps[k + 1]!, MILK_NOISE);
    const gain = product(product(here.c, transposed(f)), inverted(next.c));
    const less = (a: Dense, b: Dense) => a.map((row, i) => row.map((entry, j) => entry - b[i]![j]!));
    x = sum(here.x, product(gain, less(x, next.x)));
    c = sum(here.c, product(product(gain, less(c, next.c)), transposed(gain)));
    expect(smoothed.milkGrams[k]).toBeCloseTo(x[MILK]![0]!, 5);
    expect(smoothed.intakeGrams[k]).toBeCloseTo(x[INTAKE]![0]!, 5);
    expect(smoothed.milkSdGrams[k]).toBeCloseTo(Math.sqrt(c[MILK]![MILK]!), 5);
  }
});
