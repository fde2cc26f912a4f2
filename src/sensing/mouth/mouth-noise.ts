/**
 * How much lips, jaw and anything else that touches the bottle disturb the balance, identified during the feed.
 *
 * The part of the balance that the milk does not explain is modelled as white noise (variance R a row) and a part that lasts seconds (an Ornstein–Uhlenbeck process of spread c
 * and correlation time τ). Differences over one row and over a second then have the variances 2R + 2c²(1 − e^(−d/τ)): two equations for R and c². Differences are independent
 * of an error of the milk, and nearly of the flow of a second.
 */
import { MILK_NOISE, MOUTH_NOISE } from '../noise.ts';

const LONG_ROWS = 5;
/** The first rows after the latch are skipped, since the mouth is still finding its hold. */
const SETTLING_ROWS = 5;

export interface MouthNoise {
  /** Unexplained reading in the last rows with the teat in, oldest first, g. */
  readonly left: Float64Array;
  count: number;
  /** Number of rows with the teat in since the latch. */
  rows: number;
  /** Sums of squared differences with fading weights, over one row and over LONG_ROWS; and the sum of the weights. */
  shortSquares: number;
  longSquares: number;
  weight: number;
  /** Identified spread of the couple, and noise of a row, g. */
  coupleGrams: number;
  rowGrams: number;
  /** Something other than a mouth presses on the bottle. */
  pushed: boolean;
}

export const createMouthNoise = (): MouthNoise => ({
  left: new Float64Array(LONG_ROWS + 1),
  count: 0,
  rows: 0,
  shortSquares: 0,
  longSquares: 0,
  weight: 0,
  coupleGrams: MOUTH_NOISE.startCoupleGrams,
  rowGrams: MOUTH_NOISE.startRowGrams,
  pushed: false,
});

/** Variance of a difference over `sec`, as a multiple of the couple's variance. */
const seenOf = (sec: number): number => 2 * (1 - Math.exp(-sec / MILK_NOISE.coupleSec));

/** The teat is out, or the balance fails: the next row is not a neighbor of the last. */
export function interruptMouthNoise(noise: MouthNoise): void {
  noise.count = 0;
  noise.rows = 0;
}

/**
 * Expected value of a variance that was measured as `found` with standard deviation `doubt` and is not negative: approximately the mean of a normal
 * distribution truncated at 0. So a couple that was not visible for some seconds is not set to 0.
 */
const notLessThanNone = (found: number, doubt: number): number =>
  (found + Math.sqrt(found * found + 2.5 * doubt * doubt)) / 2;

/** A row with the teat in. @param leftGrams measured balance − reading expected from milk and hold; @param rowSec length of the row */
export function stepMouthNoise(noise: MouthNoise, leftGrams: number, rowSec: number): void {
  const { left } = noise;
  noise.rows += 1;
  if (noise.rows <= SETTLING_ROWS) return;
  if (noise.count === left.length) left.copyWithin(0, 1);
  else noise.count += 1;
  left[noise.count - 1] = leftGrams;
  if (noise.count < left.length) return;
  // A single knock, or setting the bottle down, is no mouth force.
  const most = 18 * (noise.rowGrams ** 2 + noise.coupleGrams ** 2);
  const keep = Math.exp(-rowSec / MOUTH_NOISE.memorySec);
  const short = Math.min(most, (leftGrams - left[LONG_ROWS - 1]!) ** 2);
  const long = Math.min(most, (leftGrams - left[0]!) ** 2);
  noise.shortSquares = noise.shortSquares * keep + short * rowSec;
  noise.longSquares = noise.longSquares * keep + long * rowSec;
  noise.weight = noise.weight * keep + rowSec;

  const seenShort = seenOf(rowSec);
  const seenLong = seenOf(LONG_ROWS * rowSec);
  const { startWorthSec: worth, startCoupleGrams, startRowGrams } = MOUTH_NOISE;
  const start = (seen: number) => worth * (2 * startRowGrams ** 2 + seen * startCoupleGrams ** 2);
  const shortMean = (noise.shortSquares + start(seenShort)) / (noise.weight + worth);
  const longMean = (noise.longSquares + start(seenLong)) / (noise.weight + worth);
  const found = (longMean - shortMean) / (seenLong - seenShort);
  const doubt = (MOUTH_NOISE.oneSecondShare * longMean) / Math.sqrt(noise.weight) / (seenLong - seenShort);
  const couple2 = Math.max(MOUTH_NOISE.leastCoupleGrams ** 2, notLessThanNone(found, doubt));
  noise.coupleGrams = Math.sqrt(couple2);
  noise.rowGrams = Math.sqrt(Math.max(MOUTH_NOISE.leastRowGrams ** 2, (shortMean - seenShort * couple2) / 2));
  // Uses the measured value, not the expected one: uncertainty alone does not mean that something presses.
  noise.pushed = found > (noise.pushed ? MOUTH_NOISE.pushGoneGrams : MOUTH_NOISE.pushedGrams) ** 2;
}

/** Variance of a row's mean of the balance, g². @param scatter2 recent variance of blocks within a row */
export function rowVariance(noise: MouthNoise, scatter2: number, rowSec: number): number {
  const { rowPerCouple, leastGrams, withinRowShare, nominalRowSec } = MOUTH_NOISE;
  const white = Math.max(noise.rowGrams, rowPerCouple * noise.coupleGrams, leastGrams);
  const beyond = Math.max(0, scatter2 - noise.rowGrams ** 2 / withinRowShare);
  return ((white * white + withinRowShare * beyond) * nominalRowSec) / Math.max(0.01, rowSec);
}
