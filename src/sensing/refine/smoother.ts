/**
 * The refined pass: every row corrected by all that was measured after it, so that the weighings after a stretch of feeding correct the stretch itself.
 *
 * The information of later rows about a row is collected backward in a vector λ and a matrix Λ (the adjoint form of the fixed-interval smoother; Bryson and Frazier 1963, in the
 * form with scalar corrections of Bierman 1973, IEEE Trans. Automatic Control 18:371; from memory): smoothed x = x − C·λ, smoothed C = C − C·Λ·C. The result is that of
 * the Rauch, Tung and Striebel smoother, without inverting a matrix, and it needs only two rows of C where that needs whole matrices.
 */
import {
  createHistoryCorrection,
  createHistoryRow,
  type History,
  type HistoryCorrection,
  type HistoryRow,
  readCorrection,
  readRow,
} from '../filter/history.ts';
import {
  COUPLE,
  DEVIATION,
  INTAKE,
  LEAK,
  MILK,
  PER_SUCK,
  type Prediction,
  STATES,
} from '../filter/milk-filter.ts';
import { GRID_STEPS, tenSecSdGrams } from './window-spread.ts';

export interface Smoothed {
  milkGrams: Float64Array;
  intakeGrams: Float64Array;
  milkSdGrams: Float64Array;
  intakeSdGrams: Float64Array;
  /** Standard deviation of the intake in the ten seconds around each second row. */
  tenSecSdGrams: Float64Array;
}

/** λ and Λ, and intermediate results. */
interface Backward {
  readonly lambda: Float64Array;
  readonly matrix: Float64Array;
  readonly scratch: Float64Array;
}

/** Takes λ and Λ back over one correction, from the state after it to the state before. */
function beforeCorrection(
  { lambda, matrix, scratch }: Backward,
  { variance, push, h, gainTimesS }: HistoryCorrection,
): void {
  const n = STATES;
  // w = Λ·K, with K = C·hᵀ/s
  let seen = 0;
  let twice = 0;
  for (let i = 0; i < n; i++) {
    let sum = 0;
    const row = i * n;
    for (let j = 0; j < n; j++) sum += matrix[row + j]! * gainTimesS[j]!;
    scratch[i] = sum / variance;
    seen += lambda[i]! * gainTimesS[i]!;
    twice += (gainTimesS[i]! * sum) / variance;
  }
  const share = (twice + 1) / variance;
  const less = seen / variance + push;
  for (let i = 0; i < n; i++) {
    const hi = h[i]!;
    const wi = scratch[i]!;
    const row = i * n;
    lambda[i] = lambda[i]! - hi * less;
    // Most entries are 0 if the measurement depends on few states.
    for (let j = 0; j <= i; j++) {
      const hj = h[j]!;
      if (hi === 0 && hj === 0) continue;
      const moved = matrix[row + j]! - hi * scratch[j]! - wi * hj + hi * hj * share;
      matrix[row + j] = moved;
      matrix[j * n + i] = moved;
    }
  }
}

/** Takes a vector back over a prediction: Fᵀ·v; its entries lie `stride` apart from `at` on. */
function back(v: Float64Array, at: number, stride: number, prediction: Prediction): void {
  const drunk = v[at + INTAKE * stride]! - v[at + MILK * stride]!;
  const sucked = prediction.suckShare * drunk;
  const deviation = at + DEVIATION * stride;
  const leak = at + LEAK * stride;
  const couple = at + COUPLE * stride;
  v[at + PER_SUCK * stride] = v[at + PER_SUCK * stride]! + sucked;
  v[deviation] = v[deviation]! * prediction.deviationDecay + sucked;
  v[leak] = v[leak]! * prediction.leakDecay + prediction.leakShare * drunk;
  v[couple] = v[couple]! * prediction.coupleDecay;
}

function beforePrediction({ lambda, matrix }: Backward, prediction: Prediction): void {
  back(lambda, 0, 1, prediction);
  for (let i = 0; i < STATES; i++) back(matrix, i * STATES, 1, prediction);
  for (let j = 0; j < STATES; j++) back(matrix, j, STATES, prediction);
}

/** @returns covariance·λ, of row `of` of the covariances */
function along(lambda: Float64Array, { covariances }: HistoryRow, of: 0 | 1): number {
  let sum = 0;
  for (let i = 0; i < STATES; i++) sum += covariances[of * STATES + i]! * lambda[i]!;
  return sum;
}

/** Into `out`: Λ times row `of` of the covariances. @returns covariance·Λ·covariance */
function throughMatrix(
  matrix: Float64Array,
  { covariances }: HistoryRow,
  of: 0 | 1,
  out: Float64Array,
): number {
  const from = of * STATES;
  let whole = 0;
  for (let i = 0; i < STATES; i++) {
    let sum = 0;
    const row = i * STATES;
    for (let j = 0; j < STATES; j++) sum += matrix[row + j]! * covariances[from + j]!;
    out[i] = sum;
    whole += sum * covariances[from + i]!;
  }
  return whole;
}

/** Smooths all kept rows. */
export function smooth(history: History): Smoothed {
  const n = STATES;
  const { length } = history;
  const out: Smoothed = {
    milkGrams: new Float64Array(length),
    intakeGrams: new Float64Array(length),
    milkSdGrams: new Float64Array(length),
    intakeSdGrams: new Float64Array(length),
    tenSecSdGrams: new Float64Array(0),
  };
  if (length === 0) return out;
  const backward: Backward = {
    lambda: new Float64Array(n),
    matrix: new Float64Array(n * n),
    scratch: new Float64Array(n),
  };
  const { lambda, matrix } = backward;
  const row = createHistoryRow();
  const { covariances } = row;
  const correction = createHistoryCorrection();
  const through = new Float64Array(n);
  /** Λ·C of intake, at each place of the grid. */
  const ahead = new Float64Array((Math.floor((length - 1) / GRID_STEPS) + 1) * n);
  for (let k = length - 1; k >= 0; k--) {
    readRow(history, k, row);
    out.milkGrams[k] = row.milkGrams - along(lambda, row, MILK);
    out.intakeGrams[k] = row.intakeGrams - along(lambda, row, INTAKE);
    const milkVariance = covariances[MILK * n + MILK]! - throughMatrix(matrix, row, MILK, through);
    out.milkSdGrams[k] = Math.sqrt(Math.max(0, milkVariance));
    const intakeVariance = covariances[INTAKE * n + INTAKE]! - throughMatrix(matrix, row, INTAKE, through);
    out.intakeSdGrams[k] = Math.sqrt(Math.max(0, intakeVariance));
    if (k % GRID_STEPS === 0) ahead.set(through, (k / GRID_STEPS) * n);
    // `holdAtLeast` moved the estimate without changing the covariance.
    lambda[MILK] = lambda[MILK]! - row.heldMilk;
    lambda[PER_SUCK] = lambda[PER_SUCK]! - row.heldPerSuck;
    for (let i = row.endCorrection - 1; i >= row.firstCorrection; i--) {
      readCorrection(history, i, correction);
      beforeCorrection(backward, correction);
    }
    beforePrediction(backward, row.prediction);
  }
  out.tenSecSdGrams = tenSecSdGrams(history, out.intakeSdGrams, ahead);
  return out;
}
