/**
 * Standard deviation of the milk taken within ten seconds, after the refined pass. The errors of neighboring rows are correlated, so the variance of a
 * difference needs their covariance: the filter's own, carried from row a over predictions and corrections to a later b, less what is known about
 * b afterwards: r − r·Λ·C with r = C_a·(…)ᵀ (the lag covariance of a fixed-interval smoother, from memory). Only intake is needed, so one row is enough.
 */
import {
  createHistoryCorrection,
  createHistoryRow,
  type History,
  type HistoryCorrection,
  readCorrection,
  readRow,
} from '../filter/history.ts';
import { INTAKE, moveRow, STATES } from '../filter/milk-filter.ts';

/** One place each 0.4 s, two rows of 0.2 s: as often as the refined pass has rows. */
export const GRID_STEPS = 2;
/** Of the 25 places that span 10 s, this many lie before the middle one. */
const BEFORE = 12;
const AFTER = 13;
/** Number of covariance rows carried at the same time: one for each place at which a window may still begin. */
const ON_THE_WAY = BEFORE + AFTER + 1;

/** First and last step of the ten seconds around a place. */
export const windowOf = (place: number, places: number): [from: number, to: number] => [
  Math.max(0, place - BEFORE) * GRID_STEPS,
  Math.min(places - 1, place + AFTER) * GRID_STEPS,
];

/** A covariance with the state, carried over one correction. */
function correctRow(rows: Float64Array, at: number, { h, gainTimesS, variance }: HistoryCorrection): void {
  let seen = 0;
  for (let j = 0; j < STATES; j++) seen += rows[at + j]! * h[j]!;
  const share = seen / variance;
  for (let j = 0; j < STATES; j++) rows[at + j] = rows[at + j]! - share * gainTimesS[j]!;
}

/**
 * @param intakeSdGrams of the refined intake, by row
 * @param ahead Λ·C of intake at each place, STATES entries each
 * @returns for each place the standard deviation of the intake in the ten seconds around it, g; the window is shorter at both ends
 */
export function tenSecSdGrams(
  history: History,
  intakeSdGrams: Float64Array,
  ahead: Float64Array,
): Float64Array {
  const n = STATES;
  const places = ahead.length / n;
  const sd = new Float64Array(places);
  const rows = new Float64Array(ON_THE_WAY * n);
  const row = createHistoryRow();
  const correction = createHistoryCorrection();
  const finish = (place: number, to: number): void => {
    const from = Math.max(0, place - BEFORE);
    const at = (from % ON_THE_WAY) * n;
    let covariance = rows[at + INTAKE]!;
    for (let i = 0; i < n; i++) covariance -= rows[at + i]! * ahead[to * n + i]!;
    const variance =
      intakeSdGrams[from * GRID_STEPS]! ** 2 + intakeSdGrams[to * GRID_STEPS]! ** 2 - 2 * covariance;
    sd[place] = Math.sqrt(Math.max(0, variance));
  };
  for (let k = 0; k <= (places - 1) * GRID_STEPS; k++) {
    readRow(history, k, row);
    const begun = Math.min(ON_THE_WAY, Math.ceil(k / GRID_STEPS));
    for (let i = 0; i < begun; i++) moveRow(rows, i * n, row.prediction);
    for (let i = row.firstCorrection; i < row.endCorrection; i++) {
      readCorrection(history, i, correction);
      for (let j = 0; j < begun; j++) correctRow(rows, j * n, correction);
    }
    if (k % GRID_STEPS !== 0) continue;
    const place = k / GRID_STEPS;
    const at = (place % ON_THE_WAY) * n;
    for (let i = 0; i < n; i++) rows[at + i] = row.covariances[INTAKE * n + i]!;
    if (place >= AFTER) finish(place - AFTER, place);
    if (place < places - 1) continue;
    for (let last = Math.max(0, place - AFTER + 1); last < places; last++) finish(last, place);
  }
  return sd;
}
