/** Needed for the worked example H.2 of JCGM 100 (GUM) in addition to our own code: inputs from repeated readings, and the correlation of results. */
import { type Model, sensitivities, type UncertainInput } from '../../src/calibration/fit/uncertainty.ts';

/** Correlation of several results of the same inputs (JCGM 100, H.2, formula H.9): J·V·Jᵀ, scaled to 1 on the diagonal. */
export function resultCorrelation(
  models: readonly Model[],
  inputs: readonly UncertainInput[],
  correlation: readonly (readonly number[])[],
): number[][] {
  const parts = models.map((model) =>
    sensitivities(model, inputs).map((slope, i) => slope * inputs[i]!.standard),
  );
  const covariance = parts.map((left) =>
    parts.map((right) =>
      left.reduce(
        (sum, a, i) => sum + right.reduce((inner, b, j) => inner + a * b * correlation[i]![j]!, 0),
        0,
      ),
    ),
  );
  return covariance.map((row, i) =>
    row.map((entry, j) => entry / Math.sqrt(covariance[i]![i]! * covariance[j]![j]!)),
  );
}

/** Estimate, standard uncertainty of the mean and correlation of the means, from simultaneous repeated readings (JCGM 100, 4.2 and 5.2.3). */
export function repeatedReadings(series: readonly (readonly number[])[]): {
  means: number[];
  standard: number[];
  correlation: number[][];
  degreesOfFreedom: number;
} {
  const count = series[0]!.length;
  const means = series.map((values) => values.reduce((sum, value) => sum + value, 0) / count);
  const covariance = series.map((left, i) =>
    series.map(
      (right, j) =>
        left.reduce((sum, value, k) => sum + (value - means[i]!) * (right[k]! - means[j]!), 0) /
        (count * (count - 1)),
    ),
  );
  const standard = covariance.map((row, i) => Math.sqrt(row[i]!));
  return {
    means,
    standard,
    correlation: covariance.map((row, i) => row.map((entry, j) => entry / (standard[i]! * standard[j]!))),
    degreesOfFreedom: count - 1,
  };
}
