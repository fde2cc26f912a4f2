/**
 * Weighted least squares. Every fit of a calibration is one residual function whose entries have unit variance if the model holds:
 * measured readings and prior knowledge (a mass ± its tolerance) alike. Gauss–Newton with a numeric Jacobian;
 * for a linear residual it is ordinary weighted least squares in one step.
 */
import { cholesky, dot, forwardSolve, invertedNormal, type Rows } from './linear-algebra.ts';

/** Whitened residuals: (seen − expected)/standard deviation, independent of each other. */
export type Residuals = (unknowns: readonly number[]) => number[];

export interface Fit {
  unknowns: number[];
  /** Covariance of the unknowns, for residuals of unit variance. */
  covariance: Rows;
  residuals: number[];
  /** Sum of squared residuals. */
  chiSquare: number;
  /** Number of residuals minus number of unknowns. */
  degreesOfFreedom: number;
  converged: boolean;
}

const MAX_ITERATIONS = 30;
const SMALL_STEP = 1e-6;

/**
 * @param start first guess
 * @param scale size of a step for the numeric derivative, per unknown
 * @returns null when the residuals do not determine the unknowns
 */
export function fitLeastSquares(
  residuals: Residuals,
  start: readonly number[],
  scale: readonly number[],
): Fit | null {
  let unknowns = [...start];
  let here = residuals(unknowns);
  for (let iteration = 0; iteration < MAX_ITERATIONS; iteration++) {
    const step = gaussNewtonStep(residuals, unknowns, here, scale);
    if (!step) return null;
    let share = 1;
    let next = unknowns.map((value, i) => value + step.change[i]!);
    let there = residuals(next);
    // A step that is too long is halved; with a good start this does not happen.
    while (!(dot(there, there) <= dot(here, here) * (1 + 1e-9) + 1e-12) && share > 1 / 64) {
      share /= 2;
      next = unknowns.map((value, i) => value + share * step.change[i]!);
      there = residuals(next);
    }
    const moved = Math.max(...step.change.map((value, i) => Math.abs(share * value) / step.sd[i]!));
    unknowns = next;
    here = there;
    if (moved < SMALL_STEP) return finished(unknowns, here, step.covariance, true);
    if (iteration === MAX_ITERATIONS - 1) return finished(unknowns, here, step.covariance, moved < 1e-2);
  }
  return null;
}

function finished(unknowns: number[], residuals: number[], covariance: Rows, converged: boolean): Fit {
  return {
    unknowns,
    covariance,
    residuals,
    chiSquare: dot(residuals, residuals),
    degreesOfFreedom: residuals.length - unknowns.length,
    converged,
  };
}

function gaussNewtonStep(
  residuals: Residuals,
  unknowns: readonly number[],
  here: readonly number[],
  scale: readonly number[],
): { change: number[]; covariance: Rows; sd: number[] } | null {
  const columns = jacobianColumns(residuals, unknowns, scale);
  const covariance = invertedNormal(columns);
  if (!covariance) return null;
  const slope = columns.map((column) => dot(column, here));
  return {
    change: covariance.map((row) => -dot(row, slope)),
    covariance,
    sd: covariance.map((row, i) => Math.sqrt(row[i]!)),
  };
}

/** Central differences: exact for residuals up to the second order. */
function jacobianColumns(residuals: Residuals, unknowns: readonly number[], scale: readonly number[]): Rows {
  const probe = [...unknowns];
  return unknowns.map((value, i) => {
    const step = scale[i]! * 1e-3;
    probe[i] = value + step;
    const above = residuals(probe);
    probe[i] = value - step;
    const below = residuals(probe);
    probe[i] = value;
    return above.map((entry, k) => (entry - below[k]!) / (2 * step));
  });
}

/**
 * Makes correlated errors independent: with K = L·Lᵀ, L⁻¹·error has unit covariance.
 * @param covariance K, symmetric positive definite
 */
export function whitener(covariance: Rows): (errors: readonly number[]) => number[] {
  const lower = cholesky(covariance);
  if (!lower) throw new RangeError('A covariance must be positive definite.');
  return (errors) => forwardSolve(lower, errors);
}
