/**
 * The bank: several milk filters and one weighted mean of them. They differ in how regular sucks are, whether sucks are seen at all, and whether an uncovered hole gives milk.
 *
 * The weight of each filter follows from how well it predicted the rows of the balance in the last minute with the teat in the mouth. All use the same noise, which is identified
 * in the feed (mouth-noise.ts), so that no filter gains likelihood by a larger variance. Where noise hides the difference the weights stay near their start, and the
 * disagreement of the filters becomes part of the stated uncertainty.
 */

import { BANK } from '../noise.ts';
import { keepIntake } from './earlier-intakes.ts';
import { createHistory, type History, recordFiltered, recordPrediction } from './history.ts';
import { holdAtLeast } from './hold-at-least.ts';
import {
  addFlowNoise,
  BIAS_X,
  BIAS_Z,
  createMilkFilter,
  expectSteeper,
  INTAKE,
  LAG_SHARE,
  MILK,
  type MilkFilter,
  PER_SUCK,
  predictMilk,
  STATES,
  type Step,
  startMilkFilter,
} from './milk-filter.ts';
import { type EarlierSucks, startingFrom } from './milk-noise.ts';

export interface MilkBank {
  readonly filters: readonly MilkFilter[];
  /** Empty when the feed is not to be refined. */
  readonly histories: readonly History[];
  /** Weight of each filter now, and at every kept row (row-major). */
  readonly weights: Float64Array;
  readonly weightLog: number[];
  readonly evidence: Float64Array;
  /** Milk of sucks since the last row, in units of one suck: in total, and the part by filters whose milk depends on how well the hole is covered. */
  pendingUnits: number;
  pendingCovered: number;
  /** The same for sucks that cannot be seen. */
  pendingUnseen: number;
  /** Sucks are too weak to be distinguished from other forces of the mouth. */
  faint: boolean;
  /** Blended estimates of the last row, g; g² the variance. */
  milkGrams: number;
  milkVariance: number;
  /** Variance of the total intake, g². */
  intakeVariance: number;
  /** Variance of the total mass as a weighing sees it: milk and its biases. */
  weighedVariance: number;
  biasXGrams: number;
  biasZGrams: number;
  lagShare: number;
}

/** @param earlier null: nothing is known of earlier feeds */
export function createMilkBank(refinable: boolean, earlier: EarlierSucks | null): MilkBank {
  const filters = BANK.filters.map(({ noise, startsFromEarlier }) =>
    createMilkFilter(earlier && startsFromEarlier ? startingFrom(noise, earlier) : noise),
  );
  return {
    filters,
    histories: refinable ? filters.map(() => createHistory()) : [],
    weights: Float64Array.from(BANK.filters, () => 1 / BANK.filters.length),
    weightLog: [],
    evidence: new Float64Array(filters.length),
    pendingUnits: 0,
    pendingCovered: 0,
    pendingUnseen: 0,
    faint: false,
    milkGrams: 0,
    milkVariance: 0,
    intakeVariance: 0,
    weighedVariance: 0,
    biasXGrams: 0,
    biasZGrams: 0,
    lagShare: 0,
  };
}

export function startMilkBank(bank: MilkBank, milkGrams: number): void {
  for (const filter of bank.filters) startMilkFilter(filter, milkGrams);
  weighFilters(bank);
  blend(bank);
}

/** `expectSteeper` for every filter. */
export function expectSteeperBank(bank: MilkBank, more: number): void {
  for (const filter of bank.filters) expectSteeper(filter, more);
}

/** Sucks of one block: their milk is included in the estimate at once, and in the covariance with the next row. */
export function addSucks(bank: MilkBank, units: number, coverShare: number, stepSec: number): void {
  bank.pendingUnits += units;
  bank.pendingCovered += units * coverShare;
  bank.pendingUnseen += BANK.unseenPerSec * stepSec * coverShare;
}

/** Sucks' worth of milk since the last row, as this filter counts it. */
export function pendingOf(bank: MilkBank, member: number): number {
  const { sucks, covered } = BANK.filters[member]!;
  if (!sucks) return bank.pendingUnseen;
  return covered ? bank.pendingCovered : bank.pendingUnits;
}

/** A row's prediction, the same for all filters except for the sucks. */
export interface BankStep extends Omit<Step, 'suckUnits'> {
  /** Flow noise in addition to each filter's own, g². */
  unseenVariance: number;
}

const filterStep: Step = {
  stepSec: 0,
  inMouth: false,
  suckUnits: 0,
  coupleSdGrams: null,
  outWalkGrams: null,
};

/** Predicts every filter over a row. */
export function predictBank(bank: MilkBank, step: BankStep): void {
  filterStep.stepSec = step.stepSec;
  filterStep.inMouth = step.inMouth;
  filterStep.coupleSdGrams = step.coupleSdGrams;
  filterStep.outWalkGrams = step.outWalkGrams;
  for (let i = 0; i < bank.filters.length; i++) {
    const filter = bank.filters[i]!;
    filterStep.suckUnits = pendingOf(bank, i);
    predictMilk(filter, filterStep);
    if (step.inMouth && step.unseenVariance > 0) addFlowNoise(filter, step.unseenVariance);
    if (bank.histories.length > 0) recordPrediction(bank.histories[i]!, filter);
  }
  bank.pendingUnits = 0;
  bank.pendingCovered = 0;
  bank.pendingUnseen = 0;
}

/** Milk may have been drunk unnoticed, in a gap or a reset. Variance in g². */
export function addUnseenFlow(bank: MilkBank, variance: number): void {
  for (const filter of bank.filters) addFlowNoise(filter, variance);
}

/** Ends a row: keeps milk at 0 or more, updates weights and mean, and records it for the refined pass. */
export function endBankRow(bank: MilkBank): void {
  for (let i = 0; i < bank.filters.length; i++) {
    const filter = bank.filters[i]!;
    const heldMilk = holdAtLeast(filter, MILK, 0);
    const heldPerSuck = holdAtLeast(filter, PER_SUCK, filter.noise.perSuckFloorGrams);
    if (bank.histories.length > 0) recordFiltered(bank.histories[i]!, filter, heldMilk, heldPerSuck);
  }
  weighFilters(bank);
  blend(bank);
  if (bank.histories.length > 0)
    for (let i = 0; i < bank.weights.length; i++) bank.weightLog.push(bank.weights[i]!);
}

function weighFilters({ weights, evidence, faint }: MilkBank): void {
  let best = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < weights.length; i++) {
    const { start, sucks } = BANK.filters[i]!;
    weights[i] = evidence[i]! + start + (faint && !sucks ? BANK.faintStart : 0);
    if (weights[i]! > best) best = weights[i]!;
  }
  let sum = 0;
  for (let i = 0; i < weights.length; i++) {
    weights[i] = Math.exp(weights[i]! - best);
    sum += weights[i]!;
  }
  for (let i = 0; i < weights.length; i++) weights[i] = weights[i]! / sum;
}

function blend(bank: MilkBank): void {
  const { filters, weights } = bank;
  const mean = (state: number): number => {
    let sum = 0;
    for (let i = 0; i < filters.length; i++) sum += weights[i]! * filters[i]!.x[state]!;
    return sum;
  };
  const milk = mean(MILK);
  const intake = mean(INTAKE);
  let variance = 0;
  let intakeVariance = 0;
  let weighed = 0;
  for (let i = 0; i < filters.length; i++) {
    const { x, c } = filters[i]!;
    const apart = (x[MILK]! - milk) ** 2;
    variance += weights[i]! * (c[MILK * STATES + MILK]! + apart);
    weighed += weights[i]! * (totalVariance(c) + apart);
    intakeVariance += weights[i]! * (c[INTAKE * STATES + INTAKE]! + (x[INTAKE]! - intake) ** 2);
  }
  bank.milkGrams = milk;
  bank.milkVariance = variance;
  bank.weighedVariance = weighed;
  bank.intakeVariance = intakeVariance;
  bank.biasXGrams = mean(BIAS_X);
  bank.biasZGrams = mean(BIAS_Z);
  bank.lagShare = mean(LAG_SHARE);
}

/** Variance of milk plus the larger bias of the two axes, g². */
function totalVariance(c: Float64Array): number {
  const along = c[BIAS_Z * STATES + BIAS_Z]! + 2 * c[MILK * STATES + BIAS_Z]!;
  const across = c[BIAS_X * STATES + BIAS_X]! + 2 * c[MILK * STATES + BIAS_X]!;
  return Math.max(0, c[MILK * STATES + MILK]! + Math.max(along, across));
}

export function keepBankIntake(bank: MilkBank, atSec: number): void {
  for (let i = 0; i < bank.filters.length; i++) keepIntake(bank.filters[i]!, atSec);
}
