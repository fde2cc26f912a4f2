/**
 * The model that the milk filter follows, written out as plain matrices from its description, and a short made-up feed that obeys it.
 * States: milk, intake (g), perSuck (g), leak (g/s), tiltBias, massBias (g), lineMm (mm), push (g).
 */
import {
  correctMilk,
  createMilkFilter,
  type MilkFilter,
  type MilkNoise,
  predictMilk,
  STATES,
  startMilkFilter,
} from '../../src/sensing/milk-filter.ts';
import { MILK_NOISE } from '../../src/sensing/noise.ts';
import { type Dense, identity, zeros } from './dense.ts';
import { seededRandom } from './random.ts';

const [MILK, INTAKE, PER_SUCK, LEAK, TILT_BIAS, MASS_BIAS, LINE_MM, PUSH] = [0, 1, 2, 3, 4, 5, 6, 7] as const;

/** Independent sources of noise in a step. */
export const SOURCES = 6;

export interface ModelStep {
  stepSec: number;
  inMouth: boolean;
  suckUnits: number;
  measurements: { row: number[]; measured: number; variance: number }[];
}

/** x(k+1) = F·x(k) while there is milk enough. */
export function transitionOf({ stepSec, inMouth, suckUnits }: ModelStep, noise: MilkNoise): Dense {
  const f = identity(STATES);
  f[LINE_MM]![LINE_MM] = Math.exp(-stepSec / noise.lineSec);
  f[PUSH]![PUSH] = Math.exp(-stepSec / noise.pushSec);
  if (!inMouth) return f;
  f[MILK]![PER_SUCK] = -suckUnits;
  f[INTAKE]![PER_SUCK] = suckUnits;
  f[MILK]![LEAK] = -stepSec;
  f[INTAKE]![LEAK] = stepSec;
  f[LEAK]![LEAK] = Math.exp(-stepSec / noise.leakSec);
  return f;
}

/** Noise of a step as columns of independent unit-variance sources: Q = G·Gᵀ. What leaves the bottle enters the mouth. */
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
  } else {
    g[MILK]![0] = noise.outWalkGrams * Math.sqrt(stepSec);
  }
  g[TILT_BIAS]![3] = noise.tiltBiasWalkGrams * Math.sqrt(stepSec);
  g[LINE_MM]![4] = noise.lineSdMm * Math.sqrt(1 - stays(noise.lineSec));
  g[PUSH]![5] = noise.pushSdGrams * Math.sqrt(1 - stays(noise.pushSec));
  return g;
}

/** What is known at the start, after a first weighing. */
export function startOf(noise: MilkNoise, milkGrams: number): { mean: number[]; covariance: Dense } {
  const covariance = zeros(STATES, STATES);
  const sds = [
    noise.milkStartSdGrams,
    0,
    noise.perSuckStartSdGrams,
    noise.leakSdGramsPerSec,
    noise.tiltBiasSdGrams,
    noise.massBiasSdGrams,
    noise.lineSdMm,
    noise.pushSdGrams,
  ];
  for (let i = 0; i < STATES; i++) covariance[i]![i] = sds[i]! ** 2;
  covariance[MILK]![MASS_BIAS] = covariance[MASS_BIAS]![MILK] = -(noise.massBiasSdGrams ** 2);
  return { mean: [milkGrams, 0, noise.perSuckGrams, 0, 0, 0, 0, 0], covariance };
}

/** Scatter of single sucks left out, so that the noise does not rest on the estimate: then the case is linear throughout. */
export const LINEAR_NOISE: MilkNoise = {
  ...MILK_NOISE,
  perSuckScatter: 0,
  inMouthWalkGrams: 0.1,
  pushSdGrams: 0.5,
};
export const START_GRAMS = 90;

/** `count` steps of 50 ms: out, then in with a suck a second, then out; balance readings throughout, weighings while out. */
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
        row: [armOfMilk, 0, 0, 0, 0.95, 0, lineShare, 1],
        measured: armOfMilk * milk + 0.3 + scatter(0.3),
        variance: 0.3 ** 2,
      },
    ];
    if (!inMouth) {
      measurements.push(
        {
          row: [0.9, 0, 0, 0, 0, 0.9, 0, 0],
          measured: 0.9 * (milk + 0.1) + scatter(0.8),
          variance: 0.8 ** 2,
        },
        {
          row: [0.4, 0, 0, 0, 0, 0.4, 0, 0],
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

/** One step through the filter under test. @returns the largest innovation, in its expected standard deviations */
export function runStep(filter: MilkFilter, step: ModelStep, afterPrediction?: () => void): number {
  predictMilk(filter, step.stepSec, step.inMouth, step.suckUnits, filter.noise.outWalkGrams);
  afterPrediction?.();
  let largest = 0;
  for (const { row, measured, variance } of step.measurements) {
    const expected = row.reduce((sum, entry, i) => sum + entry * filter.x[i]!, 0);
    const ratio = correctMilk(filter, Float64Array.from(row), measured - expected, variance);
    largest = Math.max(largest, Math.abs(ratio));
  }
  return largest;
}
