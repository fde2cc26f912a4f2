/** Flow through a teat: a small hole, the pressure across it, and milk or air behind it. */
import { STANDARD_GRAVITY_MPS2 } from '../base/units.ts';
import type { TeatParameters } from './parameters.ts';

/** Pascals in one millimetre of mercury (conventional value, 133.322). */
export const PASCALS_PER_MMHG = 133.322;

/**
 * Orifice law: volume flow = Cd · area · √(2·Δp/ρ). Hole size explains most of the spread between teats (Mathew 1990).
 * @returns mL/s through an open hole with `pressurePa` across it
 */
export function holeFlowMlPerSec(
  teat: TeatParameters,
  pressurePa: number,
  densityGramsPerMl: number,
): number {
  if (pressurePa <= 0) return 0;
  const areaM2 = (Math.PI / 4) * (teat.holeMm / 1000) ** 2;
  const speedMps = Math.sqrt((2 * pressurePa) / (densityGramsPerMl * 1000));
  return teat.dischargeCoefficient * areaM2 * speedMps * 1e6;
}

/** @returns pressure of `headMm` of milk, Pa. */
export const headPressurePa = (headMm: number, densityGramsPerMl: number): number =>
  densityGramsPerMl * STANDARD_GRAVITY_MPS2 * Math.max(0, headMm);

/** @returns share of milk, the rest being air, in what a suck draws: 0 when the hole is not covered. */
export const milkShare = (teat: TeatParameters, headMm: number): number =>
  Math.min(Math.max(headMm / teat.airDepthMm, 0), 1);
