/**
 * The model behind the milk filter, written as plain matrices from its description, and a short invented feed that obeys it.
 * States: milk, intake, perSuck, deviation (g), leak (g/s), couple (g), lineMm, besideMm (mm), bias, tiltBias, biasX, biasZ (g), lagShare.
 */

import { correctMilk } from '../../src/sensing/filter/milk-correction.ts';
import {
  createMilkFilter,
  type MilkFilter,
  predictMilk,
  STATES,
  startMilkFilter,
} from '../../src/sensing/filter/milk-filter.ts';
import type { MilkNoise } from '../../src/sensing/filter/milk-noise.ts';
import { MILK_NOISE } from '../../src/sensing/noise.ts';
import { type Dense, identity, zeros } from './dense.ts';
import { seededRandom } from './random.ts';

const [MILK, INTAKE, PER_SUCK, DEVIATION, LEAK, COUPLE, LINE_MM] = [0, 1, 2, 3, 4, 5, 6] as const;
const [BESIDE_MM, BIAS, TILT_BIAS, BIAS_X, BIAS_Z, LAG_SHARE] = [7, 8, 9, 10, 11, 12] as const;

/** Independent sources of noise in a step. */
export const SOURCES = 9;
/** Spread of the couple with the teat in, g. */
const COUPLE_SD_GRAMS = 1.2;

export interface ModelStep {
  stepSec: number;
  inMouth: boolean;
  suckUnits: number;
  measurements: { row: number[]; measured: number; variance: number }[];
}

/** x(k+1) = F·x(k) while there is enough milk. */
export function transitionOf({ stepSec, inMouth, suckUnits }: ModelStep, noise: MilkNoise): Dense {
  const f = identity(STATES);
  f[DEVIATION]![DEVIATION] = Math.exp(-stepSec / noise.deviationSec);
  f[COUPLE]![COUPLE] = Math.exp(-stepSec / noise.coupleSec);
  if (!inMouth) return f;
  for (const sucked of [PER_SUCK, DEVIATION]) {
    f[MILK]![sucked] = -suckUnits;
    f[INTAKE]![sucked] = suckUnits;
  }
  f[MILK]![LEAK] = -stepSec;
  f[INTAKE]![LEAK] = stepSec;
  f[LEAK]![LEAK] = Math.exp(-stepSec / noise.leakSec);
  return f;
}

/** Noise of a step as columns of independent unit-variance sources: Q = G·Gᵀ. Milk that leaves the bottle enters the mouth. */
export function noiseOf(
  { stepSec, inMouth, suckUnits }: ModelStep,
  noise: MilkNoise,
  perSuckGrams: number,
): Dense {
  const g = zeros(STATES, SOURCES);
  const flowSd = Math.sqrt(
    (noise.perSuckScatter * perSuckGrams) ** 2 * suckUnits + noise.inMouthWalkGrams ** 2 * stepSec,
  );
  const stays = (sec: number): number => Math.exp((-2 * stepSec) / sec);
  if (inMouth) {
    g[MILK]![0] = -flowSd;
    g[INTAKE]![0] = flowSd;
    g[PER_SUCK]![1] = noise.perSuckWalkGrams * Math.sqrt(suckUnits);
    g[LEAK]![2] = noise.leakSdGramsPerSec * Math.sqrt(1 - stays(noise.leakSec));
    g[LINE_MM]![3] = noise.lineWalkMm * Math.sqrt(stepSec);
    g[BESIDE_MM]![4] = noise.besideWalkMm * Math.sqrt(stepSec);
  } else {
    g[MILK]![0] = noise.outWalkGrams * Math.sqrt(stepSec);
  }
  const coupleSd = inMouth ? COUPLE_SD_GRAMS : noise.coupleOutSdGrams;
  g[COUPLE]![5] = coupleSd * Math.sqrt(1 - stays(noise.coupleSec));
  g[BIAS]![6] = noise.biasWalkGrams * Math.sqrt(stepSec);
  g[BIAS_X]![7] = noise.massBiasWalkGrams * Math.sqrt(stepSec);
  g[BIAS_Z]![8] = noise.massBiasWalkGrams * Math.sqrt(stepSec);
  return g;
}

/** Initial state, after a first weighing. */
export function startOf(noise: MilkNoise, milkGrams: number): { mean: number[]; covariance: Dense } {
  const covariance = zeros(STATES, STATES);
  const sds = {
    [MILK]: noise.milkStartSdGrams,
    [PER_SUCK]: noise.perSuckStartSdGrams,
    [DEVIATION]: noise.deviationShare * noise.perSuckGrams,
    [LEAK]: noise.leakSdGramsPerSec,
    [COUPLE]: noise.coupleOutSdGrams,
    [LINE_MM]: noise.lineSdMm,
    [BESIDE_MM]: noise.besideSdMm,
    [BIAS]: noise.biasSdGrams,
    [TILT_BIAS]: noise.tiltBiasSdGrams,
    [BIAS_X]: noise.massBiasSdGrams,
    [BIAS_Z]: noise.massBiasSdGrams,
    [LAG_SHARE]: noise.lagShareSd,
  };
  for (const [state, sd] of Object.entries(sds)) covariance[Number(state)]![Number(state)] = sd ** 2;
  // An error of weighing along the axis, in which the bottle stands, is in the milk with the opposite sign.
  covariance[MILK]![BIAS_Z] = covariance[BIAS_Z]![MILK] = -0.8 * noise.massBiasSdGrams ** 2;
  const mean = new Array<number>(STATES).fill(0);
  mean[MILK] = milkGrams;
  mean[PER_SUCK] = noise.perSuckGrams;
  mean[LINE_MM] = noise.lineMm;
  mean[LAG_SHARE] = 0.5;
  return { mean, covariance };
}

/** Without scatter of sucks and bursts, so that the noise does not depend on the estimate: then the case is linear throughout. */
export const LINEAR_NOISE: MilkNoise = {
  ...MILK_NOISE,
  perSuckScatter: 0,
  deviationShare: 0,
  inMouthWalkGrams: 0.1,
  lineMm: 0,
};
export const START_GRAMS = 90;

const rowOf = (entries: Record<number, number>): number[] =>
  Array.from({ length: STATES }, (_, i) => entries[i] ?? 0);

/** `count` steps of 50 ms: teat out, then in with a suck a second, then out; balance readings all the time, weighings while out. */
export function modelFeed(count: number, seed: number): ModelStep[] {
  const random = seededRandom(seed);
  const scatter = (sd: number): number => sd * Math.sqrt(12) * (random() - 0.5);
  let milk = START_GRAMS + 1.5;
  return Array.from({ length: count }, (_, k) => {
    const inMouth = k > count / 6 && k < (5 * count) / 6;
    const suckUnits = inMouth && k % 20 < 12 ? 1 / 12 : 0;
    milk -= suckUnits * 0.24;
    const armOfMilk = 0.7 + 0.2 * Math.sin(k / 9);
    const lineShare = inMouth ? 0.4 * Math.cos(k / 3) : 0.05;
    const measurements = [
      {
        row: rowOf({
          [MILK]: armOfMilk,
          [COUPLE]: 1,
          [LINE_MM]: lineShare,
          [BESIDE_MM]: -lineShare / 2,
          [BIAS]: 1,
          [TILT_BIAS]: 0.95,
          [LAG_SHARE]: 0.2 * Math.sin(k / 5),
        }),
        measured: armOfMilk * milk + 0.3 + scatter(0.3),
        variance: 0.3 ** 2,
      },
    ];
    if (!inMouth) {
      measurements.push(
        {
          row: rowOf({ [MILK]: 0.9, [BIAS_X]: 1 }),
          measured: 0.9 * (milk + 0.1) + scatter(0.8),
          variance: 0.8 ** 2,
        },
        {
          row: rowOf({ [MILK]: 0.4, [BIAS_Z]: 1 }),
          measured: 0.4 * (milk + 0.1) + scatter(0.8),
          variance: 0.8 ** 2,
        },
      );
    }
    return { stepSec: 0.05, inMouth, suckUnits, measurements };
  });
}

export function startedFilter(noise: MilkNoise = LINEAR_NOISE): MilkFilter {
  const filter = createMilkFilter(noise);
  startMilkFilter(filter, START_GRAMS);
  return filter;
}

/** One step of the filter under test. @returns the largest innovation, in its expected standard deviations */
export function runStep(
  filter: MilkFilter,
  step: ModelStep,
  afterPrediction?: () => void,
  afterCorrection?: (h: Float64Array) => void,
): number {
  const { stepSec, inMouth, suckUnits } = step;
  const coupleSdGrams = inMouth ? COUPLE_SD_GRAMS : null;
  predictMilk(filter, { stepSec, inMouth, suckUnits, coupleSdGrams, outWalkGrams: null });
  afterPrediction?.();
  let largest = 0;
  for (const { row, measured, variance } of step.measurements) {
    const expected = row.reduce((sum, entry, i) => sum + entry * filter.x[i]!, 0);
    const h = Float64Array.from(row);
    const ratio = correctMilk(filter, h, measured - expected, variance);
    afterCorrection?.(h);
    largest = Math.max(largest, Math.abs(ratio));
  }
  return largest;
}
