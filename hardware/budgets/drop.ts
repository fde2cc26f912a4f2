/** Putting down hard: what reaches the cells past the stop pins. Pure. N, mm. */
import { STANDARD_GRAVITY_MPS2 } from '../../src/base/units.ts';
import { pinBendingStressMPa } from './beams.ts';
import { CELL_DATA, cellStiffnessNPerMm, ratedN, STOP_AT_SHARE } from './cells.ts';

export const DROP = {
  /** The sleeve lands on its shell and comes to rest over this way, mm: soft mat or give of the shell. Assumption, no source. */
  stoppingMm: 2,
  /** Peak over mean deceleration: 2 for one that rises and falls evenly. */
  peakFactor: 2,
  /** Both stop pins share the bottle's force. */
  pins: 2,
  /** Pin, foot and shell around one stop. Assumption, no source; press to the stop in the bring-up to find it. */
  stopStiffnessNPerMm: 2000,
  /** From the side of the foot to the boss that holds the pin, mm. */
  pinArmMm: 7,
  pinDiameterMm: 3,
} as const;

/** Peak force of the bottle on the stops after falling from `heightMm`, N. */
export const peakForceN = (heightMm: number, massGrams: number): number =>
  ((massGrams / 1000) * STANDARD_GRAVITY_MPS2 * DROP.peakFactor * (heightMm + DROP.stoppingMm)) /
  DROP.stoppingMm;

/** What the hardest-hit cell then carries, N: the way to the stop, and a little more as the stop gives. */
export function cellInDropN(heightMm: number, massGrams: number): number {
  const eachPin = peakForceN(heightMm, massGrams) / DROP.pins;
  const toStop = ratedN * STOP_AT_SHARE;
  if (eachPin <= toStop) return eachPin;
  // Beyond the gap, cell and stop share in the ratio of their stiffness.
  const beyondMm = (eachPin - toStop) / (DROP.stopStiffnessNPerMm + cellStiffnessNPerMm);
  return toStop + beyondMm * cellStiffnessNPerMm;
}

/** Safe overload of the cell over what it carries; ≥ 1 is safe. */
export const dropMargin = (heightMm: number, massGrams: number): number =>
  (CELL_DATA.safeOverload * ratedN) / cellInDropN(heightMm, massGrams);

/** Greatest height with margin ≥ 1, mm. */
export function safeDropMm(massGrams: number): number {
  const safe = CELL_DATA.safeOverload * ratedN;
  const beyondMm = (safe - ratedN * STOP_AT_SHARE) / cellStiffnessNPerMm;
  const eachPin = ratedN * STOP_AT_SHARE + beyondMm * (DROP.stopStiffnessNPerMm + cellStiffnessNPerMm);
  const mean = (eachPin * DROP.pins) / DROP.peakFactor / ((massGrams / 1000) * STANDARD_GRAVITY_MPS2);
  return mean * DROP.stoppingMm - DROP.stoppingMm;
}

export const pinStressMPa = (heightMm: number, massGrams: number): number =>
  pinBendingStressMPa(peakForceN(heightMm, massGrams) / DROP.pins / 2, DROP.pinArmMm, DROP.pinDiameterMm);
