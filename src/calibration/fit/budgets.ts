/**
 * The three budgets of a calibrated sleeve at rest: milk mass by weighing, flow over 10 s, intake between two weighings.
 * The part of a moving hand is not included; the estimator states it for each moment.
 */
import { flOzFromMl, MILK_DENSITY_GRAMS_PER_ML } from '../../base/units.ts';
import type { FixtureTolerance } from '../walk/sleeve-design.ts';
import type { BalanceFit } from './balance.ts';
import type { BottleFit } from './bottle.ts';
import {
  budgetOf,
  type Model,
  type MonteCarloResult,
  monteCarlo,
  type UncertainInput,
  type UncertaintyBudget,
} from './uncertainty.ts';
import { gainInputs, normalB, STATED_FOR, TWO_CELLS, weightVariance } from './weight-inputs.ts';

export interface StatedBudget {
  name: 'mass' | 'flow' | 'intake';
  title: string;
  unit: string;
  digits: number;
  budget: UncertaintyBudget;
  check: MonteCarloResult;
}

export interface BudgetFacts {
  balance: BalanceFit;
  bottle: BottleFit;
  /** Noise of one cell's mean over 2 s, g, and its number of independent readings (type A, from the holds). */
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

type Stated = Pick<StatedBudget, 'name' | 'title' | 'unit' | 'digits'> & {
  model: Model;
  inputs: UncertainInput[];
};

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

/** Contact-free balance about the tip of the teat, at rest: a gram gives a reading below 1 there, so its noise counts more. */
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
