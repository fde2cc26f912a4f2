/**
 * The Kalman filter of milk and intake. Plain loops over typed arrays; nothing is allocated in a step.
 *
 * States, and why each is there:
 *   milk       g      what is in the bottle
 *   intake     g      what left it with the teat in the mouth; a state of its own, so that weighings correct it with the right share
 *   perSuck    g      milk of one suck: sucks are clearly seen in the pull, so they give the time of the flow
 *   deviation  g      difference of the present sucks from it
 *   leak       g/s    flow without a detected suck
 *   couple     g      couple of lips and jaw, which disturbs the balance for seconds; its size is identified (mouth-noise.ts)
 *   lineMm     mm     where the mouth's force acts along the axis, from the tip (behind: negative)
 *   besideMm   mm     how far its line passes beside the axis
 *   bias       g      error of the balance (zeros, warming)
 *   tiltBias   g      the same, growing with the felt force across (empty centre, gains)
 *   biasX      g      error of the outright weighing across the axis (dry mass, gains, zeros), and
 *   biasZ      g      along it
 *   lagShare   1      share of the nominal lag with which the milk's surface follows the felt force
 *
 * Rate: one prediction and up to three scalar corrections a row of 0.2 s. Noise figures: noise.ts.
 */

import type { MilkNoise } from './milk-noise.ts';

export const STATES = 13;
export const MILK = 0;
export const INTAKE = 1;
export const PER_SUCK = 2;
export const DEVIATION = 3;
export const LEAK = 4;
export const COUPLE = 5;
export const LINE_MM = 6;
export const BESIDE_MM = 7;
export const BIAS = 8;
export const TILT_BIAS = 9;
export const BIAS_X = 10;
export const BIAS_Z = 11;
export const LAG_SHARE = 12;

/** Number of earlier intakes that are kept. */
export const EARLIER_INTAKES = 28;

/** Coefficients of a prediction, for the refined pass. */
export interface Prediction {
  /** Number of sucks, and seconds of leak, whose milk left the bottle. */
  suckShare: number;
  leakShare: number;
  deviationDecay: number;
  leakDecay: number;
  coupleDecay: number;
}

export interface MilkFilter {
  readonly noise: MilkNoise;
  readonly x: Float64Array;
  /** Covariance, STATES × STATES, row-major, symmetric. */
  readonly c: Float64Array;
  /** Earlier intakes, updated by every later correction: a ring of value, variance, time and covariance with x. */
  readonly earlierValue: Float64Array;
  readonly earlierVariance: Float64Array;
  readonly earlierAtSec: Float64Array;
  readonly earlierC: Float64Array;
  earlierCount: number;
  earlierNext: number;
  readonly prediction: Prediction;
  /** Log-likelihood of the last correction. */
  logLikelihood: number;
  /** The last correction, for the refined pass: C·hᵀ before it, its variance, and innovation divided by variance. */
  readonly gainTimesS: Float64Array;
  correctionVariance: number;
  push: number;
}

export const createMilkFilter = (noise: MilkNoise): MilkFilter => ({
  noise,
  x: new Float64Array(STATES),
  c: new Float64Array(STATES * STATES),
  earlierValue: new Float64Array(EARLIER_INTAKES),
  earlierVariance: new Float64Array(EARLIER_INTAKES),
  earlierAtSec: new Float64Array(EARLIER_INTAKES),
  earlierC: new Float64Array(EARLIER_INTAKES * STATES),
  earlierCount: 0,
  earlierNext: 0,
  prediction: { suckShare: 0, leakShare: 0, deviationDecay: 1, leakDecay: 1, coupleDecay: 1 },
  logLikelihood: 0,
  gainTimesS: new Float64Array(STATES),
  correctionVariance: 1,
  push: 0,
});

const LAG_SHARE_START = 0.5;
/** Correlation of the bias of the first weighing with the milk's error: most of the error, but not all, since balance and both axes differ. */
const WEIGHED_WRONG_SHARE = 0.8;

/** Starts from a first weighing of `milkGrams`. */
export function startMilkFilter(filter: MilkFilter, milkGrams: number): void {
  const { noise, x, c } = filter;
  x.fill(0);
  c.fill(0);
  x[MILK] = milkGrams;
  x[PER_SUCK] = noise.perSuckGrams;
  x[LINE_MM] = noise.lineMm;
  x[LAG_SHARE] = LAG_SHARE_START;
  const set = (state: number, sd: number) => {
    c[state * STATES + state] = sd * sd;
  };
  set(MILK, noise.milkStartSdGrams);
  set(PER_SUCK, noise.perSuckStartSdGrams);
  set(DEVIATION, noise.deviationShare * noise.perSuckGrams);
  set(LEAK, noise.leakSdGramsPerSec);
  set(COUPLE, noise.coupleOutSdGrams);
  set(LINE_MM, noise.lineSdMm);
  set(BESIDE_MM, noise.besideSdMm);
  set(BIAS, noise.biasSdGrams);
  set(TILT_BIAS, noise.tiltBiasSdGrams);
  set(BIAS_X, noise.massBiasSdGrams);
  set(BIAS_Z, noise.massBiasSdGrams);
  set(LAG_SHARE, noise.lagShareSd);
  // The bottle is upright when it is first weighed, so the axial cell carries it.
  const shared = -WEIGHED_WRONG_SHARE * noise.massBiasSdGrams ** 2;
  c[MILK * STATES + BIAS_Z] = shared;
  c[BIAS_Z * STATES + MILK] = shared;
  filter.earlierCount = 0;
  filter.earlierNext = 0;
}

/** At the start of drinking: the bottle is steeper than assumed so far. @param more additional steepness, 0 level to 1 steep */
export function expectSteeper({ noise, x }: MilkFilter, more: number): void {
  x[PER_SUCK] = x[PER_SUCK]! + more * (noise.perSuckSteepGrams - noise.perSuckGrams);
}

/** Input of one prediction. */
export interface Step {
  stepSec: number;
  inMouth: boolean;
  /** Milk of sucks in this step, in units of one suck. */
  suckUnits: number;
  /** Spread of the couple, g: as identified with the teat in or perhaps in; null with the teat out. */
  coupleSdGrams: number | null;
  /** Milk noise with the teat out, g per √s (large while milk is spilt or poured in); null: the filter's own. */
  outWalkGrams: number | null;
}

/** Below this much milk a bottle gives less with each suck. */
const EMPTYING_GRAMS = 1.5;
const LEAST_PER_SUCK_GRAMS = 0.05;

/** Factor on the milk of a suck in a nearly empty bottle, 0 to 1. It takes the milk's uncertainty into account: a bottle that may hold milk still gives. */
export const giving = ({ x, c }: MilkFilter): number =>
  Math.min(1, Math.max(0, (x[MILK]! + Math.sqrt(Math.max(0, c[MILK * STATES + MILK]!))) / EMPTYING_GRAMS));

/** Moves one row (of x, of C, of the earlier intakes' covariances) by the prediction. */
export function moveRow(row: Float64Array, at: number, prediction: Prediction): void {
  const left =
    prediction.suckShare * (row[at + PER_SUCK]! + row[at + DEVIATION]!) +
    prediction.leakShare * row[at + LEAK]!;
  row[at + MILK] = row[at + MILK]! - left;
  row[at + INTAKE] = row[at + INTAKE]! + left;
  row[at + DEVIATION] = row[at + DEVIATION]! * prediction.deviationDecay;
  row[at + LEAK] = row[at + LEAK]! * prediction.leakDecay;
  row[at + COUPLE] = row[at + COUPLE]! * prediction.coupleDecay;
}

/** Row-major `matrix` times the transposed transition, in place. */
export function moveRows(matrix: Float64Array, rows: number, prediction: Prediction): void {
  for (let i = 0; i < rows; i++) moveRow(matrix, i * STATES, prediction);
}

/** One step of prediction. */
export function predictMilk(filter: MilkFilter, step: Step): void {
  const { noise, x, c, prediction } = filter;
  const n = STATES;
  const { stepSec, inMouth } = step;
  const share = inMouth ? giving(filter) : 0;
  prediction.suckShare = step.suckUnits * share;
  prediction.leakShare = stepSec * share;
  prediction.deviationDecay = Math.exp(-stepSec / noise.deviationSec);
  prediction.leakDecay = inMouth ? Math.exp(-stepSec / noise.leakSec) : 1;
  prediction.coupleDecay = Math.exp(-stepSec / noise.coupleSec);
  moveRow(x, 0, prediction);
  moveRows(c, n, prediction);
  const { suckShare, leakShare, deviationDecay, leakDecay, coupleDecay } = prediction;
  for (let j = 0; j < n; j++) {
    const left = suckShare * (c[PER_SUCK * n + j]! + c[DEVIATION * n + j]!) + leakShare * c[LEAK * n + j]!;
    c[MILK * n + j] = c[MILK * n + j]! - left;
    c[INTAKE * n + j] = c[INTAKE * n + j]! + left;
    c[DEVIATION * n + j] = c[DEVIATION * n + j]! * deviationDecay;
    c[LEAK * n + j] = c[LEAK * n + j]! * leakDecay;
    c[COUPLE * n + j] = c[COUPLE * n + j]! * coupleDecay;
  }
  moveRows(filter.earlierC, filter.earlierCount, prediction);

  const coupleSd = step.coupleSdGrams ?? noise.coupleOutSdGrams;
  if (inMouth) {
    const perSuck = Math.max(x[PER_SUCK]!, LEAST_PER_SUCK_GRAMS);
    const scatter = noise.perSuckScatter * perSuck;
    addFlowNoise(filter, scatter * scatter * suckShare + noise.inMouthWalkGrams ** 2 * stepSec);
    widen(c, PER_SUCK, noise.perSuckWalkGrams ** 2 * step.suckUnits);
    widen(c, DEVIATION, (noise.deviationShare * perSuck) ** 2 * (1 - deviationDecay * deviationDecay));
    widen(c, LEAK, noise.leakSdGramsPerSec ** 2 * (1 - leakDecay * leakDecay));
    widen(c, LINE_MM, noise.lineWalkMm ** 2 * stepSec);
    widen(c, BESIDE_MM, noise.besideWalkMm ** 2 * stepSec);
  } else {
    widen(c, MILK, (step.outWalkGrams ?? noise.outWalkGrams) ** 2 * stepSec);
  }
  widen(c, COUPLE, coupleSd ** 2 * (1 - coupleDecay * coupleDecay));
  widen(c, BIAS, noise.biasWalkGrams ** 2 * stepSec);
  widen(c, BIAS_X, noise.massBiasWalkGrams ** 2 * stepSec);
  widen(c, BIAS_Z, noise.massBiasWalkGrams ** 2 * stepSec);
}

/** Adds to a state's variance. */
function widen(c: Float64Array, state: number, variance: number): void {
  const at = state * STATES + state;
  c[at] = c[at]! + variance;
}

/** Noise of milk drunk unnoticed: it leaves the bottle and adds to the intake. Variance in g². */
export function addFlowNoise(filter: MilkFilter, varianceGrams2: number): void {
  const { c } = filter;
  const n = STATES;
  c[MILK * n + MILK] = c[MILK * n + MILK]! + varianceGrams2;
  c[INTAKE * n + INTAKE] = c[INTAKE * n + INTAKE]! + varianceGrams2;
  c[MILK * n + INTAKE] = c[MILK * n + INTAKE]! - varianceGrams2;
  c[INTAKE * n + MILK] = c[INTAKE * n + MILK]! - varianceGrams2;
}
