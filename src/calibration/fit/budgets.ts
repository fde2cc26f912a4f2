/**
 * The three budgets of a calibrated sleeve at rest: milk mass by weighing, flow over 10 s, intake between two weighings.
 * A hand that moves adds its own part; that one is stated by the estimator, moment by moment.
 */
import { flOzFromMl, MILK_DENSITY_GRAMS_PER_ML } from '../../base/units.ts';
import { type FixtureTolerance, LEVER_MM, USUAL_TOLERANCE } from '../walk/sleeve-design.ts';
import { type BalanceFit, loadCovariance } from './balance.ts';
import type { BottleFit } from './bottle.ts';
import {
  budgetOf,
  type Model,
  type MonteCarloResult,
  monteCarlo,
  type UncertainInput,
  type UncertaintyBudget,
} from './uncertainty.ts';

/** The feed that the budgets are stated for. */
export const STATED_FOR = {
  milkGrams: 100,
  intakeMl: 90,
  feedMin: 15,
  flowMlPerMin: 8,
  tiltDeg: 100,
  flowSec: 10,
} as const;

export interface StatedBudget {
  name: 'mass' | 'flow' | 'intake';
  title: string;
  unit: string;
  digits: number;
  budget: UncertaintyBudget;
  check: MonteCarloResult;
}

const normalB = (
  name: string,
  unit: string,
  estimate: number,
  standard: number,
  source: string,
): UncertainInput => ({
  name,
  unit,
  estimate,
  standard,
  type: 'B',
  distribution: 'normal',
  source,
});

export interface BudgetFacts {
  balance: BalanceFit;
  bottle: BottleFit;
  /** Noise of one cell's mean over 2 s, g, and how many independent readings stand behind it (type A, from the holds). */
  weighingNoiseGrams: number;
  noiseDegreesOfFreedom: number;
  tolerance: FixtureTolerance;
  /** Half-width of the milk's density, g/mL (own assumption, no source). */
  densityToleranceGramsPerMl: number;
}

/** @param uniform01 seeded, for the Monte Carlo check */
export function statedBudgets(facts: BudgetFacts, uniform01: () => number): StatedBudget[] {
  return [massBudget(facts), flowBudget(facts), intakeBudget(facts)].map(({ model, inputs, ...rest }) => ({
    ...rest,
    budget: budgetOf(model, inputs),
    check: monteCarlo(model, inputs, uniform01),
  }));
}

/** Level, front and rear cell share the weight: their noise and walks add by squares. */
const TWO_CELLS = Math.SQRT2;

type Stated = Pick<StatedBudget, 'name' | 'title' | 'unit' | 'digits'> & {
  model: Model;
  inputs: UncertainInput[];
};

/** Of a weight along the felt force: the fit's own part, and that of creep, which no residual shows. */
function gainInputs({ covariance, creepCovariance, ...fit }: BalanceFit): UncertainInput[] {
  const less = covariance.map((row, i) => row.map((entry, j) => entry - creepCovariance[i]![j]!));
  return [
    normalB(
      'gain along the weight',
      '1',
      1,
      gainSd({ ...fit, creepCovariance, covariance: less }),
      'least-squares fit of the load matrix',
    ),
    {
      name: 'creep of the cells',
      unit: '1',
      estimate: 0,
      standard: gainSd({ ...fit, creepCovariance, covariance: creepCovariance }),
      type: 'B',
      distribution: 'uniform',
      source: `half-width ${100 * USUAL_TOLERANCE.creepShare} % of the load on each cell (data sheets, from memory)`,
    },
  ];
}

/** Relative uncertainty of a weight along the felt force, from a covariance with the zeros taken out. */
function gainSd(balance: BalanceFit): number {
  const one = weightVariance(balance, 400);
  const none = weightVariance(balance, 0);
  return Math.sqrt(Math.max(0, one - none)) / 400;
}

function weightVariance(balance: BalanceFit, grams: number): number {
  const tilt = (STATED_FOR.tiltDeg * Math.PI) / 180;
  const along = [Math.sin(tilt), Math.cos(tilt), 0];
  const covariance = loadCovariance(balance, [
    grams * along[0]!,
    grams * along[1]!,
    (grams * along[0]! * 80) / LEVER_MM,
  ]);
  return along.reduce(
    (sum, a, i) => sum + along.reduce((inner, b, j) => inner + a * b * covariance[i]![j]!, 0),
    0,
  );
}

function massBudget({ balance, bottle, ...facts }: BudgetFacts): Stated {
  const inputs: UncertainInput[] = [
    {
      name: 'noise of a 2 s weighing',
      unit: 'g',
      estimate: 0,
      standard: facts.weighingNoiseGrams * TWO_CELLS,
      type: 'A',
      distribution: 'normal',
      degreesOfFreedom: facts.noiseDegreesOfFreedom,
      source: 'scatter within the holds of this calibration',
    },
    ...gainInputs(balance),
    normalB(
      'zeros at the end of the calibration',
      'g',
      0,
      Math.sqrt(weightVariance(balance, 0)),
      'the same fit',
    ),
    normalB(
      'walk of the zeros within 10 min',
      'g',
      0,
      facts.tolerance.driftGramsPerSqrtMin * TWO_CELLS * Math.sqrt(10),
      'drift as stated for the cells',
    ),
    normalB(
      'empty bottle and cup',
      'g',
      bottle.emptyMassGrams,
      bottle.sd.emptyMassGrams,
      'fit of the empty holds',
    ),
  ];
  const total = STATED_FOR.milkGrams + bottle.emptyMassGrams;
  const model: Model = ([noise, gain, creep, zero, walk, empty]) =>
    (gain! + creep!) * total + noise! + zero! + walk! - empty!;
  return {
    name: 'mass',
    title: `Milk by one weighing (${STATED_FOR.milkGrams} g in the bottle)`,
    unit: 'g',
    digits: 1,
    model,
    inputs,
  };
}

/** Contact-free balance about the tip of the teat, at rest: what a gram adds there is less than 1, so its noise counts more. */
function flowBudget({ balance, ...facts }: BudgetFacts): Stated {
  const { flowSec, flowMlPerMin } = STATED_FOR;
  const drift = facts.tolerance.driftGramsPerSqrtMin * Math.sqrt(flowSec / 60);
  // Moment about the tip from front and rear cell with arms of some 80 and 150 mm: zeros' walk √(0.8² + 1.5²) in grams at LEVER_MM.
  const arms = Math.hypot(0.8, 1.5);
  const noise: Omit<UncertainInput, 'name'> = {
    unit: 'g',
    estimate: 0,
    standard: facts.weighingNoiseGrams * arms * Math.SQRT2,
    type: 'A',
    distribution: 'normal',
    degreesOfFreedom: facts.noiseDegreesOfFreedom,
    source: 'scatter within the holds; 1 s means at both ends',
  };
  const inputs: UncertainInput[] = [
    { name: 'noise of two weighings', ...noise },
    normalB('walk of the zeros within 10 s', 'g', 0, drift * arms, 'drift as stated for the cells'),
    ...gainInputs(balance),
    densityInput(facts.densityToleranceGramsPerMl),
  ];
  const lostGrams = ((flowMlPerMin * flowSec) / 60) * MILK_DENSITY_GRAMS_PER_ML;
  const model: Model = ([scatter, walk, gain, creep, density]) =>
    (((gain! + creep!) * lostGrams + scatter! + walk!) / density!) * (60 / flowSec);
  return {
    name: 'flow',
    title: `Flow over ${flowSec} s (${flOzFromMl(flowMlPerMin).toFixed(2)} fl oz/min, ${flowMlPerMin} mL/min)`,
    unit: 'mL/min',
    digits: 1,
    model,
    inputs,
  };
}

function intakeBudget({ balance, ...facts }: BudgetFacts): Stated {
  const { intakeMl, feedMin } = STATED_FOR;
  const inputs: UncertainInput[] = [
    {
      name: 'noise of two weighings',
      unit: 'g',
      estimate: 0,
      standard: facts.weighingNoiseGrams * TWO_CELLS * Math.SQRT2,
      type: 'A',
      distribution: 'normal',
      degreesOfFreedom: facts.noiseDegreesOfFreedom,
      source: 'scatter within the holds of this calibration',
    },
    normalB(
      `walk of the zeros within ${feedMin} min`,
      'g',
      0,
      facts.tolerance.driftGramsPerSqrtMin * TWO_CELLS * Math.sqrt(feedMin),
      'drift as stated for the cells',
    ),
    ...gainInputs(balance),
    densityInput(facts.densityToleranceGramsPerMl),
  ];
  const lostGrams = intakeMl * MILK_DENSITY_GRAMS_PER_ML;
  const model: Model = ([noise, walk, gain, creep, density]) =>
    ((gain! + creep!) * lostGrams + noise! + walk!) / density!;
  return {
    name: 'intake',
    title: `Intake between two weighings (${flOzFromMl(intakeMl).toFixed(0)} fl oz, ${intakeMl} mL, in ${feedMin} min)`,
    unit: 'mL',
    digits: 1,
    model,
    inputs,
  };
}

const densityInput = (halfWidth: number): UncertainInput => ({
  name: 'density of the milk',
  unit: 'g/mL',
  estimate: MILK_DENSITY_GRAMS_PER_ML,
  standard: halfWidth / Math.sqrt(3),
  type: 'B',
  distribution: 'uniform',
  source: `half-width ${halfWidth} g/mL (own assumption, no source)`,
});
