/** Uncertainty of an index from that of its inputs. Pure; names follow the GUM (JCGM 100:2008). */
import type { IndexValue } from './indices.ts';

/** 95 % of a normal distribution are within this many standard uncertainties. */
export const COVERAGE_FACTOR = 1.96;

/** @param floor, ceiling limits of the quantity */
export function withinOf(
  value: number,
  standardUncertainty: number,
  floor = 0,
  ceiling = Number.POSITIVE_INFINITY,
): IndexValue {
  const half = COVERAGE_FACTOR * standardUncertainty;
  return {
    value,
    low: Math.max(floor, value - half),
    high: Math.min(ceiling, value + half),
  };
}

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
