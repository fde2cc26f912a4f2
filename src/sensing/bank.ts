/**
 * The bank: a few milk filters that differ only in what they take a suck to be, and one blend of them.
 *
 * Where sucks are regular, the filter that trusts them is far the best; where they are weak, dry or unseen it is far the worst. Each filter is weighed by how well
 * it foretold the balance in the last minute with the teat in the mouth. Evidence is tempered: the balance's errors are coloured,
 * so its samples say less than they seem to.
 */
import type { Arm } from './balance.ts';
import { cloneIntake, intakeSince, readClones } from './clones.ts';
import {
  createHistory,
  type History,
  recordFiltered,
  recordPredictedSpread,
  recordPrediction,
} from './history.ts';
import {
  addFlowNoise,
  admitPush,
  correctMilk,
  createMilkFilter,
  INTAKE,
  LEAK,
  LINE_MM,
  MASS_BIAS,
  MILK,
  type MilkFilter,
  PER_SUCK,
  PUSH,
  predictMilk,
  STATES,
  startMilkFilter,
  TILT_BIAS,
} from './milk-filter.ts';
import { BANK, MEASUREMENT } from './noise.ts';

export interface MilkBank {
  readonly filters: readonly MilkFilter[];
  /** Empty when the feed is not to be refined. */
  readonly histories: readonly History[];
  /** Weight of each filter now, and at every kept step (row-major). */
  readonly weights: Float64Array;
  readonly weightLog: number[];
  readonly evidence: Float64Array;
  /** The filter that knows of a push explains the last minute best. */
  pushed: boolean;
  /** How long the balance has said nothing, seconds. */
  balanceAwaySec: number;
  /** Blended estimates, g. */
  milkGrams: number;
  milkVariance: number;
  intakeGrams: number;
  massBiasGrams: number;
}

export function createMilkBank(refinable: boolean): MilkBank {
  const filters = BANK.filters.map(({ noise }) => createMilkFilter(noise));
  return {
    filters,
    histories: refinable ? filters.map(() => createHistory()) : [],
    weights: Float64Array.from(BANK.filters, () => 1 / BANK.filters.length),
    weightLog: [],
    evidence: new Float64Array(filters.length),
    pushed: false,
    balanceAwaySec: 0,
    milkGrams: 0,
    milkVariance: 0,
    intakeGrams: 0,
    massBiasGrams: 0,
  };
}

export function startMilkBank(bank: MilkBank, milkGrams: number): void {
  for (const filter of bank.filters) startMilkFilter(filter, milkGrams);
  weighFilters(bank);
  blend(bank);
}

/** What one block brings to every filter. */
export interface BankStep {
  stepSec: number;
  inMouth: boolean;
  suckUnits: number;
  /** Share of milk in what a suck draws just now, by the hold. */
  coverShare: number;
  /** Milk noise with the teat out, g per √s; null: as each filter has it. */
  outWalkGrams: number | null;
  /** Flow noise on top of each filter's own, g². */
  flowVariance: number;
}

export function predictBank(bank: MilkBank, step: BankStep): void {
  bank.balanceAwaySec += step.stepSec;
  for (let i = 0; i < bank.filters.length; i++) {
    const filter = bank.filters[i]!;
    const { sucks, covered } = BANK.filters[i]!;
    const units = sucks ? step.suckUnits * (covered ? step.coverShare : 1) : 0;
    predictMilk(filter, step.stepSec, step.inMouth, units, step.outWalkGrams ?? filter.noise.outWalkGrams);
    if (step.inMouth && step.flowVariance > 0) addFlowNoise(filter, step.flowVariance);
    if (bank.histories.length > 0) recordPrediction(bank.histories[i]!, filter);
  }
}

const h = new Float64Array(STATES);

const expectedReading = ({ x }: MilkFilter, arm: Arm, ax: number, perMm: number): number =>
  x[MILK]! * arm.arm + x[TILT_BIAS]! * ax + x[LINE_MM]! * perMm + x[PUSH]!;

/** Measured − expected balance of the blend, g at arm 1. */
export function balanceError(bank: MilkBank, reading: number, arm: Arm, ax: number, perMm: number): number {
  let expected = 0;
  for (let i = 0; i < bank.filters.length; i++) {
    expected += bank.weights[i]! * expectedReading(bank.filters[i]!, arm, ax, perMm);
  }
  return reading - expected;
}

/**
 * Corrects every filter by the transverse balance.
 * @param reading of the balance, g at arm 1
 * @param perMm what it changes per mm that the mouth's line of action passes beside the axis
 * @param hold how restless the hand is, 1 as usual, and how fast it turns the bottle
 * @param judge whether this step tells the filters apart
 */
export function correctBankByBalance(
  bank: MilkBank,
  reading: number,
  arm: Arm,
  ax: number,
  perMm: number,
  hold: { motion: number; turnRadPerSec: number },
  judge: { stepSec: number } | null,
): void {
  bank.balanceAwaySec = 0;
  const perRad = Math.max(bank.milkGrams, 0) * arm.armPerRad;
  const tiltError = perRad * MEASUREMENT.tiltSdRadPerMotion * hold.motion;
  const lagError = perRad * MEASUREMENT.sloshSdSec * hold.turnRadPerSec;
  const variance =
    MEASUREMENT.transverseSdGrams ** 2 + MEASUREMENT.tiltWeight * tiltError * tiltError + lagError * lagError;
  for (let i = 0; i < bank.filters.length; i++) {
    const filter = bank.filters[i]!;
    h.fill(0);
    h[MILK] = arm.armOfAdded;
    h[TILT_BIAS] = ax;
    h[LINE_MM] = BANK.filters[i]!.sucks ? perMm : 0;
    h[PUSH] = filter.noise.pushSdGrams > 0 ? 1 : 0;
    const innovation = reading - expectedReading(filter, arm, ax, perMm);
    // The refined pass must know of it before the correction, as part of the prediction.
    if (admitPush(filter, h, innovation, variance) && bank.histories.length > 0)
      recordPredictedSpread(bank.histories[i]!, filter);
    correctMilk(filter, h, innovation, variance);
    if (judge) {
      const keep = Math.exp(-judge.stepSec / BANK.evidenceSec);
      bank.evidence[i] = bank.evidence[i]! * keep + filter.logLikelihood + flowsBack(filter);
    }
  }
}

/** Milk cannot come back out of the mouth: log-likelihood of a flow below none, by as many of its standard deviations. */
function flowsBack({ x, c }: MilkFilter): number {
  if (x[LEAK]! >= 0) return 0;
  return (-0.5 * x[LEAK]! * x[LEAK]!) / Math.max(1e-12, c[LEAK * STATES + LEAK]!);
}

/** Corrects every filter by the outright weighing of what hangs in the sleeve, g along x and along z. */
export function correctBankByWeighing(
  bank: MilkBank,
  dryGrams: number,
  xGrams: number,
  zGrams: number,
  ax: number,
  az: number,
  motion: number,
): void {
  const variance =
    MEASUREMENT.weighingSdGrams ** 2 * (1 + MEASUREMENT.weighingPerMotion * Math.max(0, motion - 1));
  for (const filter of bank.filters) {
    h.fill(0);
    h[MILK] = ax;
    h[MASS_BIAS] = ax;
    correctMilk(filter, h, xGrams - (dryGrams + filter.x[MILK]! + filter.x[MASS_BIAS]!) * ax, variance);
    h[MILK] = az;
    h[MASS_BIAS] = az;
    correctMilk(filter, h, zGrams - (dryGrams + filter.x[MILK]! + filter.x[MASS_BIAS]!) * az, variance);
  }
}

/** Milk may have gone unseen into the mouth: a gap, a reset. Variance in g². */
export function addUnseenFlow(bank: MilkBank, variance: number): void {
  for (const filter of bank.filters) addFlowNoise(filter, variance);
}

/** Ends a step: no milk below none, weights, blend, and the record of it. */
export function endBankStep(bank: MilkBank): void {
  for (let i = 0; i < bank.filters.length; i++) {
    const filter = bank.filters[i]!;
    if (filter.x[MILK]! < 0) {
      h.fill(0);
      h[MILK] = 1;
      correctMilk(filter, h, -filter.x[MILK]!, 0.05 ** 2);
    }
    const floor = filter.noise.perSuckFloorGrams;
    if (filter.x[PER_SUCK]! < floor) filter.x[PER_SUCK] = floor;
    if (bank.histories.length > 0) recordFiltered(bank.histories[i]!, filter);
  }
  weighFilters(bank);
  blend(bank);
  if (bank.histories.length > 0) for (const weight of bank.weights) bank.weightLog.push(weight);
}

function weighFilters(bank: MilkBank): void {
  const { weights, evidence, balanceAwaySec } = bank;
  let best = Number.NEGATIVE_INFINITY;
  // Without the balance only sucks tell of milk: the filter that does not heed them knows nothing.
  const sucksOnly = balanceAwaySec > BANK.balanceAwaySec;
  for (let i = 0; i < weights.length; i++) {
    const { sucks, start } = BANK.filters[i]!;
    weights[i] = sucksOnly && !sucks ? Number.NEGATIVE_INFINITY : BANK.temper * evidence[i]! + start;
    if (weights[i]! > best) best = weights[i]!;
  }
  let sum = 0;
  for (let i = 0; i < weights.length; i++) {
    weights[i] = Math.exp(weights[i]! - best);
    sum += weights[i]!;
  }
  let pushShare = 0;
  for (let i = 0; i < weights.length; i++) {
    weights[i] = weights[i]! / sum;
    if (BANK.filters[i]!.noise.pushSdGrams > 0) pushShare += weights[i]!;
  }
  bank.pushed = pushShare > (bank.pushed ? BANK.pushGoneShare : BANK.pushSeenShare);
}

function blend(bank: MilkBank): void {
  const { filters, weights } = bank;
  let milk = 0;
  let intake = 0;
  let bias = 0;
  for (let i = 0; i < filters.length; i++) {
    const { x } = filters[i]!;
    milk += weights[i]! * x[MILK]!;
    intake += weights[i]! * x[INTAKE]!;
    bias += weights[i]! * x[MASS_BIAS]!;
  }
  let variance = 0;
  for (let i = 0; i < filters.length; i++) {
    const { x, c } = filters[i]!;
    variance += weights[i]! * (c[MILK * STATES + MILK]! + (x[MILK]! - milk) ** 2);
  }
  bank.milkGrams = milk;
  bank.milkVariance = variance;
  bank.intakeGrams = intake;
  bank.massBiasGrams = bias;
}

export function cloneBank(bank: MilkBank, atSec: number): void {
  for (const filter of bank.filters) cloneIntake(filter, atSec);
}

const one = { grams: 0, variance: 0 };

/** Change of intake since `sinceSec` as known now: mean and variance (g, g²) of the blend, into `out`. */
export function bankIntakeSince(
  bank: MilkBank,
  sinceSec: number,
  out: { grams: number; variance: number },
): void {
  let mean = 0;
  let square = 0;
  for (let i = 0; i < bank.filters.length; i++) {
    intakeSince(bank.filters[i]!, sinceSec, one);
    mean += bank.weights[i]! * one.grams;
    square += bank.weights[i]! * (one.variance + one.grams * one.grams);
  }
  out.grams = mean;
  out.variance = Math.max(0, square - mean * mean);
}

/** The blended intakes of the last seconds, oldest first, g. `scratch` is as long as the trail. @returns how many */
export function readBankClones(
  bank: MilkBank,
  atSec: Float64Array,
  intakeGrams: Float64Array,
  scratch: Float64Array,
): number {
  let count = 0;
  intakeGrams.fill(0);
  for (let i = 0; i < bank.filters.length; i++) {
    count = readClones(bank.filters[i]!, atSec, scratch);
    for (let k = 0; k < count; k++) intakeGrams[k] = intakeGrams[k]! + bank.weights[i]! * scratch[k]!;
  }
  return count;
}
