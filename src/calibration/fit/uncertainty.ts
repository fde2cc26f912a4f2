/**
 * Measurement uncertainty by the GUM (JCGM 100:2008): budget, combined and expanded uncertainty; and by Monte Carlo (JCGM 101:2008) as a check.
 * The model is any function of its inputs; sensitivities are taken numerically.
 */

/** How an input's uncertainty was found: A by statistics of repeated readings, B by other means (JCGM 100, 4.2 and 4.3). */
export type EvaluationType = 'A' | 'B';

export interface UncertainInput {
  name: string;
  unit: string;
  estimate: number;
  /** Standard uncertainty. */
  standard: number;
  type: EvaluationType;
  distribution: 'normal' | 'uniform';
  /** Infinite if absent. */
  degreesOfFreedom?: number;
  /** Where it comes from, for the budget. */
  source?: string;
}

export type Model = (inputs: readonly number[]) => number;

export interface BudgetLine extends UncertainInput {
  sensitivity: number;
  /** |sensitivity| × standard uncertainty, in the result's unit. */
  contribution: number;
  /** Share of the combined variance; with correlated inputs the shares need not add up to 1. */
  share: number;
}

export interface UncertaintyBudget {
  estimate: number;
  combined: number;
  /** Welch–Satterthwaite (JCGM 100, G.4.1, formula G.2b). */
  effectiveDegreesOfFreedom: number;
  coverageFactor: number;
  expanded: number;
  lines: BudgetLine[];
}

/** Derivative of the model to each input, from one standard uncertainty to each side (JCGM 100, 5.1.3, note 2). */
export function sensitivities(model: Model, inputs: readonly UncertainInput[]): number[] {
  const at = inputs.map(({ estimate }) => estimate);
  return inputs.map(({ estimate, standard }, i) => {
    if (!(standard > 0)) return 0;
    const probe = [...at];
    probe[i] = estimate + standard;
    const above = model(probe);
    probe[i] = estimate - standard;
    return (above - model(probe)) / (2 * standard);
  });
}

/**
 * Law of propagation (JCGM 100, formulas 10 and 13).
 * @param correlation coefficients between the inputs; independent when left out
 */
export function budgetOf(
  model: Model,
  inputs: readonly UncertainInput[],
  {
    coverageFactor = 2,
    correlation,
  }: { coverageFactor?: number; correlation?: readonly (readonly number[])[] } = {},
): UncertaintyBudget {
  const slopes = sensitivities(model, inputs);
  const parts = inputs.map(({ standard }, i) => slopes[i]! * standard);
  let variance = 0;
  parts.forEach((left, i) => {
    parts.forEach((right, j) => {
      variance += left * right * (i === j ? 1 : (correlation?.[i]?.[j] ?? 0));
    });
  });
  const combined = Math.sqrt(Math.max(0, variance));
  const welch = inputs.reduce(
    (sum, { degreesOfFreedom }, i) => sum + parts[i]! ** 4 / (degreesOfFreedom ?? Number.POSITIVE_INFINITY),
    0,
  );
  return {
    estimate: model(inputs.map(({ estimate }) => estimate)),
    combined,
    effectiveDegreesOfFreedom: welch > 0 ? combined ** 4 / welch : Number.POSITIVE_INFINITY,
    coverageFactor,
    expanded: coverageFactor * combined,
    lines: inputs.map((input, i) => ({
      ...input,
      sensitivity: slopes[i]!,
      contribution: Math.abs(parts[i]!),
      share: variance > 0 ? parts[i]! ** 2 / variance : 0,
    })),
  };
}

export interface MonteCarloResult {
  mean: number;
  standard: number;
  /** Probabilistically symmetric coverage interval. */
  low: number;
  high: number;
}

/**
 * Propagation of distributions (JCGM 101): draws every input from its distribution, independently.
 * @param uniform01 seeded source of numbers in [0, 1)
 */
export function monteCarlo(
  model: Model,
  inputs: readonly UncertainInput[],
  uniform01: () => number,
  { draws = 20_000, coverage = 0.9545 }: { draws?: number; coverage?: number } = {},
): MonteCarloResult {
  const results = Float64Array.from({ length: draws }, () =>
    model(
      inputs.map(({ estimate, standard, distribution }) =>
        distribution === 'uniform'
          ? estimate + standard * Math.sqrt(3) * (2 * uniform01() - 1)
          : estimate + standard * normal(uniform01),
      ),
    ),
  ).sort();
  const mean = results.reduce((sum, value) => sum + value, 0) / draws;
  const squares = results.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const tail = (1 - coverage) / 2;
  return {
    mean,
    standard: Math.sqrt(squares / (draws - 1)),
    low: results[Math.floor(tail * draws)]!,
    high: results[Math.min(draws - 1, Math.ceil((1 - tail) * draws))]!,
  };
}

/** Box–Muller (Box & Muller 1958). */
function normal(uniform01: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - uniform01())) * Math.cos(2 * Math.PI * uniform01());
}
