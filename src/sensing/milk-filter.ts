/**
 * The Kalman filter of milk and intake. Plain loops over typed arrays; nothing is allocated in a step.
 *
 * States, and why each is there:
 *   milk      g      what is in the bottle
 *   intake    g      what left it with the teat in the mouth; a state of its own, so that weighings correct it with the right share
 *   perSuck   g      milk of one suck: sucks are seen sharply in the pull, so they place the flow in time
 *   leak      g/s    flow that no seen suck explains
 *   tiltBias  g      error of the transverse balance that grows with the felt force across (empty centre, gains, drift)
 *   massBias  g      error of the outright weighing (dry mass, gains, zero); the transverse balance does not see it
 *   lineMm    mm     how far the mouth's line of action passes beside the axis
 *   push      g      what presses on the bottle away from the tip (a hand, a cloth, a mouth that has slid along the teat), as the balance sees it
 *
 * Rate: one predict and up to three scalar corrections each 50 ms. Noise figures: DEVELOPERS.md, "the noise model".
 */

export const STATES = 8;
export const MILK = 0;
export const INTAKE = 1;
export const PER_SUCK = 2;
export const LEAK = 3;
export const TILT_BIAS = 4;
export const MASS_BIAS = 5;
export const LINE_MM = 6;
export const PUSH = 7;

/** Noise model; g, s, mm as in the names. */
export interface MilkNoise {
  milkStartSdGrams: number;
  perSuckGrams: number;
  perSuckStartSdGrams: number;
  /** Random walk of the milk per suck, g per √suck, and scatter of single sucks as a share of it. */
  perSuckWalkGrams: number;
  perSuckScatter: number;
  perSuckFloorGrams: number;
  /** Flow without a seen suck: spread in g/s and how long it lasts. */
  leakSdGramsPerSec: number;
  leakSec: number;
  /** Milk noise with the teat in and out, g per √s. */
  inMouthWalkGrams: number;
  outWalkGrams: number;
  tiltBiasSdGrams: number;
  tiltBiasWalkGrams: number;
  massBiasSdGrams: number;
  lineSdMm: number;
  lineSec: number;
  /** Spread of a push and how long it lasts; 0: this filter knows none. */
  pushSdGrams: number;
  pushSec: number;
}

/** Number of earlier intakes that are kept. */
export const CLONES = 24;

export interface MilkFilter {
  readonly noise: MilkNoise;
  readonly x: Float64Array;
  /** Covariance, 8×8, row-major, symmetric. */
  readonly c: Float64Array;
  /** Earlier intakes kept up to date by every later correction: a ring of value, variance, time and covariance with x. */
  readonly cloneValue: Float64Array;
  readonly cloneVariance: Float64Array;
  readonly cloneAtSec: Float64Array;
  readonly cloneC: Float64Array;
  cloneCount: number;
  cloneNext: number;
  /** Last prediction's coefficients, for the smoother. */
  suckShare: number;
  leakShare: number;
  leakKeep: number;
  lineKeep: number;
  pushKeep: number;
  /** −½ Σ log-likelihood of the last correction. */
  logLikelihood: number;
}

export function createMilkFilter(noise: MilkNoise): MilkFilter {
  const filter: MilkFilter = {
    noise,
    x: new Float64Array(STATES),
    c: new Float64Array(STATES * STATES),
    cloneValue: new Float64Array(CLONES),
    cloneVariance: new Float64Array(CLONES),
    cloneAtSec: new Float64Array(CLONES),
    cloneC: new Float64Array(CLONES * STATES),
    cloneCount: 0,
    cloneNext: 0,
    suckShare: 0,
    leakShare: 0,
    leakKeep: 1,
    lineKeep: 1,
    pushKeep: 1,
    logLikelihood: 0,
  };
  return filter;
}

/** Starts from a first weighing of `milkGrams`. */
export function startMilkFilter(filter: MilkFilter, milkGrams: number): void {
  const { noise, x, c } = filter;
  x.fill(0);
  c.fill(0);
  x[MILK] = milkGrams;
  x[PER_SUCK] = noise.perSuckGrams;
  const set = (state: number, sd: number) => {
    c[state * STATES + state] = sd * sd;
  };
  set(MILK, noise.milkStartSdGrams);
  set(PER_SUCK, noise.perSuckStartSdGrams);
  set(LEAK, noise.leakSdGramsPerSec);
  set(TILT_BIAS, noise.tiltBiasSdGrams);
  set(MASS_BIAS, noise.massBiasSdGrams);
  set(LINE_MM, noise.lineSdMm);
  set(PUSH, noise.pushSdGrams);
  // The weighing gave milk + massBias: what one is too high, the other is too low.
  const shared = -(noise.massBiasSdGrams ** 2);
  c[MILK * STATES + MASS_BIAS] = shared;
  c[MASS_BIAS * STATES + MILK] = shared;
  filter.cloneCount = 0;
  filter.cloneNext = 0;
}

/**
 * One step of `stepSec` seconds.
 * @param inMouth teat in the mouth
 * @param suckUnits sucks' worth of milk that comes in this step
 * @param outWalkGrams milk noise with the teat out, g per √s (large while milk is spilt or poured in)
 */
export function predictMilk(
  filter: MilkFilter,
  stepSec: number,
  inMouth: boolean,
  suckUnits: number,
  outWalkGrams: number,
): void {
  const { noise, x, c } = filter;
  const n = STATES;
  // An empty bottle gives nothing, however hard the sucking.
  const fade = inMouth ? Math.min(1, Math.max(0, x[MILK]! / 1.5)) : 0;
  const suckShare = suckUnits * fade;
  const leakShare = stepSec * fade;
  const leakKeep = inMouth ? Math.exp(-stepSec / noise.leakSec) : 1;
  const lineKeep = Math.exp(-stepSec / noise.lineSec);
  const pushKeep = Math.exp(-stepSec / noise.pushSec);
  filter.suckShare = suckShare;
  filter.leakShare = leakShare;
  filter.leakKeep = leakKeep;
  filter.lineKeep = lineKeep;
  filter.pushKeep = pushKeep;

  const left = suckShare * x[PER_SUCK]! + leakShare * x[LEAK]!;
  x[MILK] = x[MILK]! - left;
  x[INTAKE] = x[INTAKE]! + left;
  x[LEAK] = x[LEAK]! * leakKeep;
  x[LINE_MM] = x[LINE_MM]! * lineKeep;
  x[PUSH] = x[PUSH]! * pushKeep;

  for (let j = 0; j < n; j++) {
    const moved = suckShare * c[PER_SUCK * n + j]! + leakShare * c[LEAK * n + j]!;
    c[MILK * n + j] = c[MILK * n + j]! - moved;
    c[INTAKE * n + j] = c[INTAKE * n + j]! + moved;
    c[LEAK * n + j] = c[LEAK * n + j]! * leakKeep;
    c[LINE_MM * n + j] = c[LINE_MM * n + j]! * lineKeep;
    c[PUSH * n + j] = c[PUSH * n + j]! * pushKeep;
  }
  for (let i = 0; i < n; i++) {
    const row = i * n;
    const moved = suckShare * c[row + PER_SUCK]! + leakShare * c[row + LEAK]!;
    c[row + MILK] = c[row + MILK]! - moved;
    c[row + INTAKE] = c[row + INTAKE]! + moved;
    c[row + LEAK] = c[row + LEAK]! * leakKeep;
    c[row + LINE_MM] = c[row + LINE_MM]! * lineKeep;
    c[row + PUSH] = c[row + PUSH]! * pushKeep;
  }

  if (inMouth) {
    const scatter = noise.perSuckScatter * x[PER_SUCK]!;
    addFlowNoise(filter, scatter * scatter * suckShare + noise.inMouthWalkGrams ** 2 * stepSec);
    c[PER_SUCK * n + PER_SUCK] = c[PER_SUCK * n + PER_SUCK]! + noise.perSuckWalkGrams ** 2 * suckUnits;
    c[LEAK * n + LEAK] = c[LEAK * n + LEAK]! + noise.leakSdGramsPerSec ** 2 * (1 - leakKeep * leakKeep);
  } else {
    c[MILK * n + MILK] = c[MILK * n + MILK]! + outWalkGrams ** 2 * stepSec;
  }
  c[TILT_BIAS * n + TILT_BIAS] = c[TILT_BIAS * n + TILT_BIAS]! + noise.tiltBiasWalkGrams ** 2 * stepSec;
  c[LINE_MM * n + LINE_MM] = c[LINE_MM * n + LINE_MM]! + noise.lineSdMm ** 2 * (1 - lineKeep * lineKeep);
  c[PUSH * n + PUSH] = c[PUSH * n + PUSH]! + noise.pushSdGrams ** 2 * (1 - pushKeep * pushKeep);

  for (let k = 0; k < filter.cloneCount; k++) {
    const row = k * n;
    const cc = filter.cloneC;
    const moved = suckShare * cc[row + PER_SUCK]! + leakShare * cc[row + LEAK]!;
    cc[row + MILK] = cc[row + MILK]! - moved;
    cc[row + INTAKE] = cc[row + INTAKE]! + moved;
    cc[row + LEAK] = cc[row + LEAK]! * leakKeep;
    cc[row + LINE_MM] = cc[row + LINE_MM]! * lineKeep;
    cc[row + PUSH] = cc[row + PUSH]! * pushKeep;
  }
}

/** Milk that may have gone into the mouth unseen: what the bottle lost, the intake won. Variance in g². */
export function addFlowNoise(filter: MilkFilter, varianceGrams2: number): void {
  const { c } = filter;
  const n = STATES;
  c[MILK * n + MILK] = c[MILK * n + MILK]! + varianceGrams2;
  c[INTAKE * n + INTAKE] = c[INTAKE * n + INTAKE]! + varianceGrams2;
  c[MILK * n + INTAKE] = c[MILK * n + INTAKE]! - varianceGrams2;
  c[INTAKE * n + MILK] = c[INTAKE * n + MILK]! - varianceGrams2;
}

const gainTimesS = new Float64Array(STATES);
/** Beyond two standard deviations a filter that knows of pushes takes it for one that has just begun or ended. */
const PUSH_BEGINS = 4;

/** A hand comes and goes at once: opens the push by what cannot be explained otherwise. Before `correctMilk` with the same arguments. @returns whether it did */
export function admitPush(
  filter: MilkFilter,
  h: Float64Array,
  innovation: number,
  variance: number,
): boolean {
  const { c, noise } = filter;
  if (noise.pushSdGrams === 0) return false;
  let expected = variance;
  for (let i = 0; i < STATES; i++) {
    for (let j = 0; j < STATES; j++) expected += h[i]! * c[i * STATES + j]! * h[j]!;
  }
  if (innovation * innovation <= PUSH_BEGINS * expected) return false;
  c[PUSH * STATES + PUSH] = c[PUSH * STATES + PUSH]! + innovation * innovation;
  return true;
}

/**
 * One scalar correction. An innovation beyond three standard deviations is not dropped but weighs less.
 * @param h measurement row, 8 entries
 * @param innovation measured − expected
 * @param variance measurement noise
 * @returns innovation over its expected standard deviation, signed, before the gate
 */
export function correctMilk(
  filter: MilkFilter,
  h: Float64Array,
  innovation: number,
  variance: number,
): number {
  const { x, c } = filter;
  const n = STATES;
  let expected = variance;
  for (let i = 0; i < n; i++) {
    let sum = 0;
    const row = i * n;
    for (let j = 0; j < n; j++) sum += c[row + j]! * h[j]!;
    gainTimesS[i] = sum;
    expected += h[i]! * sum;
  }
  const ratio = (innovation * innovation) / expected;
  filter.logLikelihood = -0.5 * (Math.log(expected) + Math.min(25, ratio));
  const s = ratio > 9 ? (innovation * innovation) / 9 : expected;
  const push = innovation / s;
  for (let i = 0; i < n; i++) {
    const gain = gainTimesS[i]!;
    x[i] = x[i]! + gain * push;
    const row = i * n;
    const share = gain / s;
    for (let j = 0; j < n; j++) c[row + j] = c[row + j]! - share * gainTimesS[j]!;
  }
  const { cloneC, cloneValue, cloneVariance } = filter;
  for (let k = 0; k < filter.cloneCount; k++) {
    const row = k * n;
    let seen = 0;
    for (let j = 0; j < n; j++) seen += cloneC[row + j]! * h[j]!;
    cloneValue[k] = cloneValue[k]! + seen * push;
    cloneVariance[k] = cloneVariance[k]! - (seen * seen) / s;
    const share = seen / s;
    for (let j = 0; j < n; j++) cloneC[row + j] = cloneC[row + j]! - share * gainTimesS[j]!;
  }
  return innovation / Math.sqrt(expected);
}
