/**
 * The refined pass: Rauch–Tung–Striebel over the kept steps (Rauch, Tung, Striebel 1965, AIAA J. 3:1445; from memory), so that the
 * weighings after a stretch of feeding correct the stretch itself.
 */
import { type History, OFFSET, recordAt, unpackTriangle } from '../filter/history.ts';
import { INTAKE, MILK, moveRows, type Prediction, STATES } from '../filter/milk-filter.ts';
import { createWindowSpread, takeStep, tenSecSdGrams } from './window-spread.ts';

export interface Smoothed {
  milkGrams: Float64Array;
  intakeGrams: Float64Array;
  milkSdGrams: Float64Array;
  intakeSdGrams: Float64Array;
  /** Of what was taken in the ten seconds around each second row. */
  tenSecSdGrams: Float64Array;
}

const column = new Float64Array(STATES);

/** Inverts a symmetric positive matrix in place by Cholesky; a hair is added to a diagonal that rounding made too small. */
function invertPositive(a: Float64Array, inverse: Float64Array, lower: Float64Array): void {
  const n = STATES;
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i * n + j]!;
      for (let k = 0; k < j; k++) sum -= lower[i * n + k]! * lower[j * n + k]!;
      if (i === j) lower[i * n + i] = Math.sqrt(Math.max(sum, 1e-12));
      else lower[i * n + j] = sum / lower[j * n + j]!;
    }
  }
  for (let col = 0; col < n; col++) {
    column.fill(0);
    // Above the diagonal the forward pass finds nothing.
    for (let i = col; i < n; i++) {
      const row = i * n;
      let sum = i === col ? 1 : 0;
      for (let k = col; k < i; k++) sum -= lower[row + k]! * column[k]!;
      column[i] = sum / lower[row + i]!;
    }
    for (let i = n - 1; i >= 0; i--) {
      let sum = column[i]!;
      for (let k = i + 1; k < n; k++) sum -= lower[k * n + i]! * column[k]!;
      const entry = sum / lower[i * n + i]!;
      column[i] = entry;
      inverse[i * n + col] = entry;
    }
  }
}

/** out = a·b, all STATES × STATES; row by row, so that memory is read in order. */
function multiply(a: Float64Array, b: Float64Array, out: Float64Array): void {
  const n = STATES;
  out.fill(0);
  for (let i = 0; i < n; i++) {
    const row = i * n;
    for (let l = 0; l < n; l++) {
      const share = a[row + l]!;
      if (share === 0) continue;
      const from = l * n;
      for (let j = 0; j < n; j++) out[row + j] = out[row + j]! + share * b[from + j]!;
    }
  }
}

/** Smooths all kept steps. Step k's prediction coefficients lead from k−1 to k. */
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
  const spread = createWindowSpread(length);
  const xs = new Float64Array(n);
  const cs = new Float64Array(n * n);
  const cf = new Float64Array(n * n);
  const cp = new Float64Array(n * n);
  const cfFt = new Float64Array(n * n);
  const inverse = new Float64Array(n * n);
  const lower = new Float64Array(n * n);
  const gain = new Float64Array(n * n);
  const half = new Float64Array(n * n);
  const dx = new Float64Array(n);
  const prediction: Prediction = { suckShare: 0, leakShare: 0, deviationKeep: 1, leakKeep: 1, coupleKeep: 1 };

  const keep = (k: number) => {
    out.milkGrams[k] = xs[MILK]!;
    out.intakeGrams[k] = xs[INTAKE]!;
    out.milkSdGrams[k] = Math.sqrt(Math.max(0, cs[MILK * n + MILK]!));
    out.intakeSdGrams[k] = Math.sqrt(Math.max(0, cs[INTAKE * n + INTAKE]!));
  };

  const last = recordAt(history, length - 1);
  for (let i = 0; i < n; i++) xs[i] = last.numbers[last.at + OFFSET.filteredX + i]!;
  unpackTriangle(last.spreads, last.spreadsAt + OFFSET.filteredC, cs);
  keep(length - 1);
  takeStep(spread, length - 1, cs, null);

  for (let k = length - 2; k >= 0; k--) {
    const here = recordAt(history, k);
    const next = recordAt(history, k + 1);
    unpackTriangle(here.spreads, here.spreadsAt + OFFSET.filteredC, cf);
    unpackTriangle(next.spreads, next.spreadsAt + OFFSET.predictedC, cp);
    const at = next.at + OFFSET.coefficients;
    prediction.suckShare = next.numbers[at]!;
    prediction.leakShare = next.numbers[at + 1]!;
    prediction.deviationKeep = next.numbers[at + 2]!;
    prediction.leakKeep = next.numbers[at + 3]!;
    prediction.coupleKeep = next.numbers[at + 4]!;
    cfFt.set(cf);
    moveRows(cfFt, n, prediction);
    invertPositive(cp, inverse, lower);
    multiply(cfFt, inverse, gain);
    for (let i = 0; i < n; i++) dx[i] = xs[i]! - next.numbers[next.at + OFFSET.predictedX + i]!;
    for (let i = 0; i < n; i++) {
      let sum = here.numbers[here.at + OFFSET.filteredX + i]!;
      for (let j = 0; j < n; j++) sum += gain[i * n + j]! * dx[j]!;
      xs[i] = sum;
    }
    // cs = cf + G (cs − cp) Gᵀ
    for (let i = 0; i < n * n; i++) cs[i] = cs[i]! - cp[i]!;
    multiply(gain, cs, half);
    for (let i = 0; i < n; i++) {
      for (let j = i; j < n; j++) {
        let sum = cf[i * n + j]!;
        for (let l = 0; l < n; l++) sum += half[i * n + l]! * gain[j * n + l]!;
        cs[i * n + j] = sum;
        cs[j * n + i] = sum;
      }
    }
    keep(k);
    takeStep(spread, k, cs, gain);
  }
  out.tenSecSdGrams = tenSecSdGrams(spread);
  return out;
}
