/**
 * Means, differences and effect sizes, each with its interval of 95 %. No p value is given: an interval says the same
 * about zero, and how large the effect may be. The unit is always one number a participant. Pure.
 */
import { mean, sampleVariance } from 'simple-statistics';
import { studentT95 } from './student-t.ts';

export interface Interval {
  value: number;
  low: number;
  high: number;
}

export interface Summary {
  n: number;
  mean: number;
  sd: number;
}

export interface Effect {
  first: Summary;
  second: Summary;
  /** Second less first. */
  difference: Interval;
  /** Difference over the pooled standard deviation, corrected for small numbers (Hedges' g); null where nothing varies. */
  hedgesG: Interval | null;
}

/** With fewer values there is no standard deviation. */
const LEAST = 2;

/** @returns null for fewer than two */
export function summaryOf(values: readonly number[]): Summary | null {
  if (values.length < LEAST) return null;
  const all = [...values];
  return { n: all.length, mean: mean(all), sd: Math.sqrt(sampleVariance(all)) };
}

const around = (value: number, half: number): Interval => ({ value, low: value - half, high: value + half });

/** Interval of a mean by Student's t. */
export const meanInterval = ({ n, mean: value, sd }: Summary): Interval =>
  around(value, (studentT95(n - 1) * sd) / Math.sqrt(n));

/** Difference of two means with unequal variances (Welch 1947, with Satterthwaite's degrees of freedom). */
export function effectOf(first: Summary, second: Summary): Effect {
  const [a, b] = [first.sd ** 2 / first.n, second.sd ** 2 / second.n];
  const difference = second.mean - first.mean;
  const degrees = (a + b) ** 2 / (a ** 2 / (first.n - 1) + b ** 2 / (second.n - 1));
  const half = a + b === 0 ? 0 : studentT95(degrees) * Math.sqrt(a + b);
  return { first, second, difference: around(difference, half), hedgesG: hedgesG(first, second) };
}

/** Standard deviation between participants of two arms taken together. */
export const pooledSd = (first: Summary, second: Summary): number =>
  Math.sqrt(((first.n - 1) * first.sd ** 2 + (second.n - 1) * second.sd ** 2) / (first.n + second.n - 2));

/**
 * Hedges 1981, with the correction and the variance by Borenstein, Hedges, Higgins and Rothstein 2009 (chapter 4);
 * the interval by the normal distribution. From memory; checked against their worked example.
 */
function hedgesG(first: Summary, second: Summary): Interval | null {
  const degrees = first.n + second.n - 2;
  const pooled = pooledSd(first, second);
  if (pooled === 0) return null;
  const d = (second.mean - first.mean) / pooled;
  const correction = 1 - 3 / (4 * degrees - 1);
  const variance = (first.n + second.n) / (first.n * second.n) + d ** 2 / (2 * (first.n + second.n));
  return around(correction * d, 1.96 * correction * Math.sqrt(variance));
}

const MOST_PARTICIPANTS = 100_000;

/**
 * Participants in each of two arms for which the interval of the difference is within ± `half`, both arms varying by `sd`.
 * @param sd between participants, > 0 @param half in the same unit, > 0 @returns null beyond 100,000
 */
export function participantsFor(sd: number, half: number): number | null {
  // By bisection: the interval gets narrower with more participants.
  const isEnough = (n: number): boolean => studentT95(2 * n - 2) * sd * Math.sqrt(2 / n) <= half;
  if (!isEnough(MOST_PARTICIPANTS)) return null;
  let few = 1;
  let enough = MOST_PARTICIPANTS;
  while (enough - few > 1) {
    const middle = Math.floor((few + enough) / 2);
    if (middle >= LEAST && isEnough(middle)) enough = middle;
    else few = middle;
  }
  return enough;
}
