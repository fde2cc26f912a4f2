/** Uncertainty of an index from that of its inputs. Pure; names follow the GUM (JCGM 100:2008). */
import type { IndexValue } from './indices.ts';

/** 95 % of a normal distribution are within this many standard uncertainties. */
export const COVERAGE_FACTOR = 1.96;

/** @param expected where the true value is expected, if not at `value`: the interval is about it, and includes both */
export function withinOf(value: number, standardUncertainty: number, expected = value): IndexValue {
  const half = COVERAGE_FACTOR * standardUncertainty;
  return {
    value,
    low: Math.max(0, Math.min(value, expected - half)),
    high: Math.max(value, expected + half),
  };
}

/** The narrowest interval that includes all of these, about the value of the first. */
export const spanning = ([first, ...others]: readonly [IndexValue, ...IndexValue[]]): IndexValue => ({
  value: first.value,
  low: Math.min(first.low, ...others.map(({ low }) => low)),
  high: Math.max(first.high, ...others.map(({ high }) => high)),
});

/** Standard uncertainty of a quotient or product of independent quantities: relative ones add in squares (GUM 5.1.6). */
export const relative = (...parts: readonly { value: number; sd: number }[]): number =>
  Math.hypot(...parts.map(({ value, sd }) => (value === 0 ? 0 : sd / value)));

/** Percentile by linear interpolation between ranks (type 7 of Hyndman and Fan 1996). @param part 0 to 1 */
export function percentile(values: readonly number[], part: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const at = (sorted.length - 1) * part;
  const low = Math.floor(at);
  const rest = at - low;
  return rest === 0 ? sorted[low]! : sorted[low]! * (1 - rest) + sorted[low + 1]! * rest;
}

export const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
