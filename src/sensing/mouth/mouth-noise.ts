/**
 * How much lips, jaw and whatever else touches the bottle disturb the balance, found while it happens.
 *
 * What the balance shows beyond the milk is taken as a white part (variance R a row) and a part that lasts seconds (an Ornstein–Uhlenbeck process of spread c
 * and correlation time τ). Differences over one row and over a second then have the variances 2R + 2c²(1 − e^(−d/τ)): two equations for R and c². Differences do not see
 * a milk that is known wrongly, and the flow of a second hardly.
 */
import { MILK_NOISE, MOUTH_NOISE } from '../noise.ts';

const LONG_ROWS = 5;
/** A mouth that has just come still finds its hold: no sign of how it sucks. */
const SETTLING_ROWS = 5;

export interface MouthNoise {
  /** What was left over in the last rows with the teat in, oldest first, g. */
  readonly left: Float64Array;
  count: number;
  /** Rows with the teat in since it came. */
  rows: number;
  /** Sums of squared differences, weights fading, over one row and over LONG_ROWS; and of the weights. */
  shortSquares: number;
  longSquares: number;
  weight: number;
  /** Identified spread of the couple, and noise of a row, g. */
  coupleGrams: number;
  rowGrams: number;
  /** Something presses on the bottle that is no mouth. */
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

/** Variance of a difference over a time per unit of the couple's variance. */
const seenOf = (sec: number): number => 2 * (1 - Math.exp(-sec / MILK_NOISE.coupleSec));

/** The teat is out, or the balance away: what comes next is no neighbour of what was. */
export function interruptMouthNoise(noise: MouthNoise): void {
  noise.count = 0;
  noise.rows = 0;
}

/**
 * What a variance is likely to be that was found with a standard deviation of `doubt`, and cannot be below none: nearly the mean of a normal distribution
 * cut off there. A couple that hid for some seconds is not taken for none.
 */
const notLessThanNone = (found: number, doubt: number): number =>
  (found + Math.sqrt(found * found + 2.5 * doubt * doubt)) / 2;

/** A row with the teat in. @param leftGrams measured balance − what milk and hold explain; @param rowSec how long the row lasts */
export function stepMouthNoise(noise: MouthNoise, leftGrams: number, rowSec: number): void {
  const { left } = noise;
  noise.rows += 1;
  if (noise.rows <= SETTLING_ROWS) return;
  if (noise.count === left.length) left.copyWithin(0, 1);
  else noise.count += 1;
  left[noise.count - 1] = leftGrams;
  if (noise.count < left.length) return;
  // One knock, or a bottle that is set down, is no mouth.
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
  // By what was found, not by what it may be: doubt presses on nothing.
  noise.pushed = found > (noise.pushed ? MOUTH_NOISE.pushGoneGrams : MOUTH_NOISE.pushedGrams) ** 2;
}

/** Variance of a row's mean of the balance, g². @param scatter2 variance of its blocks within it, as of late */
export function rowVariance(noise: MouthNoise, scatter2: number, rowSec: number): number {
  const { rowPerCouple, leastGrams, withinRowShare, nominalRowSec } = MOUTH_NOISE;
  const white = Math.max(noise.rowGrams, rowPerCouple * noise.coupleGrams, leastGrams);
  const beyond = Math.max(0, scatter2 - noise.rowGrams ** 2 / withinRowShare);
  return ((white * white + withinRowShare * beyond) * nominalRowSec) / Math.max(0.01, rowSec);
}
