/** The milk filter meets a measurement. Plain loops over typed arrays; nothing is allocated. */
import { type MilkFilter, STATES } from './milk-filter.ts';

/** Limit of one row's log-likelihood, so that a single outlier cannot decide between filters. */
const MOST_RATIO = 16;
const GATE = 9;

/**
 * One scalar correction. An innovation beyond three standard deviations is not dropped but gets less weight.
 * @param h measurement row, STATES entries
 * @param innovation measured − expected
 * @param variance measurement noise
 * @returns innovation over its expected standard deviation, signed, before the gate
 */
export function correctMilk(
  filter: MilkFilter,
  h: Float64Array,
  innovation: number,
  variance: number,
): number {
  const { x, c, gainTimesS } = filter;
  const n = STATES;
  // The sum starts from a constant 0: starting from a parameter would allocate in each call.
  let expected = 0;
  for (let i = 0; i < n; i++) {
    let sum = 0;
    const row = i * n;
    for (let j = 0; j < n; j++) sum += c[row + j]! * h[j]!;
    gainTimesS[i] = sum;
    expected += h[i]! * sum;
  }
  expected += variance;
  const ratio = (innovation * innovation) / expected;
  filter.logLikelihood = -0.5 * (Math.log(expected) + Math.min(MOST_RATIO, ratio));
  const s = ratio > GATE ? (innovation * innovation) / GATE : expected;
  const push = innovation / s;
  filter.correctionVariance = s;
  filter.push = push;
  for (let i = 0; i < n; i++) {
    const gain = gainTimesS[i]!;
    x[i] = x[i]! + gain * push;
    const row = i * n;
    const share = gain / s;
    for (let j = 0; j < n; j++) c[row + j] = c[row + j]! - share * gainTimesS[j]!;
  }
  const { earlierC, earlierValue, earlierVariance } = filter;
  for (let k = 0; k < filter.earlierCount; k++) {
    const row = k * n;
    let seen = 0;
    for (let j = 0; j < n; j++) seen += earlierC[row + j]! * h[j]!;
    earlierValue[k] = earlierValue[k]! + seen * push;
    earlierVariance[k] = earlierVariance[k]! - (seen * seen) / s;
    const share = seen / s;
    for (let j = 0; j < n; j++) earlierC[row + j] = earlierC[row + j]! - share * gainTimesS[j]!;
  }
  return innovation / Math.sqrt(expected);
}
