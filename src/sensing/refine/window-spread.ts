/**
 * How far the milk taken within ten seconds may be believed after the refined pass. The errors of neighboring steps go together, so the
 * spread of a difference needs their covariance: between step a and a later b it is G_a … G_{b−1} · C_b, with the smoother's gains G and
 * smoothed covariances C (Rauch, Tung, Striebel 1965; the lag covariance of a fixed-interval smoother, from memory). Only intake is asked for,
 * so one row of the product is enough.
 */
import { INTAKE, STATES } from '../filter/milk-filter.ts';

/** A place to look from each 0.4 s, two steps of 0.2 s: as often as the refined pass has rows. */
export const GRID_STEPS = 2;
/** Of 25 places that span 10 s, so many lie before the one in the middle. */
const BEFORE = 12;
const AFTER = 13;

export interface WindowSpread {
  /** Places that are whole: each has all the steps up to the next. */
  readonly places: number;
  readonly columns: Float64Array;
  readonly gains: Float64Array;
  readonly running: Float64Array;
  readonly scratch: Float64Array;
}

export function createWindowSpread(steps: number): WindowSpread {
  const places = steps === 0 ? 0 : Math.floor((steps - 1) / GRID_STEPS) + 1;
  return {
    places,
    columns: new Float64Array(places * STATES),
    gains: new Float64Array(places * STATES * STATES),
    running: new Float64Array(STATES * STATES),
    scratch: new Float64Array(STATES * STATES),
  };
}

/** Takes up a step of the backward pass: its smoothed covariance, and the gain that leads to it; null at the last step. */
export function takeStep(
  spread: WindowSpread,
  k: number,
  covariance: Float64Array,
  gain: Float64Array | null,
): void {
  const n = STATES;
  const { running, scratch } = spread;
  if (gain === null) startAnew(running);
  // A product that has just begun is the gain itself.
  else if ((k + 1) % GRID_STEPS === 0) running.set(gain);
  else {
    scratch.fill(0);
    for (let i = 0; i < n; i++) {
      const row = i * n;
      for (let l = 0; l < n; l++) {
        const share = gain[row + l]!;
        const from = l * n;
        for (let j = 0; j < n; j++) scratch[row + j] = scratch[row + j]! + share * running[from + j]!;
      }
    }
    running.set(scratch);
  }
  if (k % GRID_STEPS !== 0) return;
  const place = k / GRID_STEPS;
  for (let i = 0; i < n; i++) spread.columns[place * n + i] = covariance[i * n + INTAKE]!;
  spread.gains.set(running, place * n * n);
}

function startAnew(running: Float64Array): void {
  running.fill(0);
  for (let i = 0; i < STATES; i++) running[i * STATES + i] = 1;
}

/** First and last step of the ten seconds around a place. */
export const windowOf = (place: number, places: number): [from: number, to: number] => [
  Math.max(0, place - BEFORE) * GRID_STEPS,
  Math.min(places - 1, place + AFTER) * GRID_STEPS,
];

/** @returns for each place the standard deviation of what was taken in the ten seconds around it, g; less time at both ends */
export function tenSecSdGrams(spread: WindowSpread): Float64Array {
  const n = STATES;
  const { places, columns, gains } = spread;
  const sd = new Float64Array(places);
  let row = new Float64Array(n);
  let next = new Float64Array(n);
  for (let place = 0; place < places; place++) {
    const from = Math.max(0, place - BEFORE);
    const to = Math.min(places - 1, place + AFTER);
    row.fill(0);
    row[INTAKE] = 1;
    for (let at = from; at < to; at++) {
      for (let j = 0; j < n; j++) {
        let sum = 0;
        for (let i = 0; i < n; i++) sum += row[i]! * gains[at * n * n + i * n + j]!;
        next[j] = sum;
      }
      [row, next] = [next, row];
    }
    let covariance = 0;
    for (let i = 0; i < n; i++) covariance += row[i]! * columns[to * n + i]!;
    const variance = columns[from * n + INTAKE]! + columns[to * n + INTAKE]! - 2 * covariance;
    sd[place] = Math.sqrt(Math.max(0, variance));
  }
  return sd;
}
