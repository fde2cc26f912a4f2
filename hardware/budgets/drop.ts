/** Falls: what pins, feet, wires and cells carry, and what survives. Pure. N, mm. */
import { STANDARD_GRAVITY_MPS2 } from '../../src/base/units.ts';
import { HARD_MATERIALS, type HardMaterial, STOP_GAP_MM, WIRE } from '../design.ts';
import { pinBendingStressMPa } from './beams.ts';
import { seatMargin, strutBendingMPa } from './seat.ts';

/** What it falls on: the way over which it comes to rest, mm. Assumptions, no source. */
export const GROUNDS = {
  table: { name: 'wooden table or floor', stoppingMm: 2 },
  mat: { name: 'foam floor mat, 10 mm', stoppingMm: 8 },
} as const;
export type Ground = keyof typeof GROUNDS;

export const DROP = {
  /** Peak over mean deceleration: 2 for one that rises and falls evenly. */
  peakFactor: 2,
  /** Both stop pins share the bottle's force. */
  pins: 2,
  /** Pin, foot and shell around one stop. Assumption, no source; press to the stop in the bring-up to find it. */
  stopStiffnessNPerMm: 2000,
  /** From the side of the foot to the boss that holds the pin, mm. */
  pinArmMm: 7,
  pinDiameterMm: 3,
  /** Width of a foot on its pin. */
  footMm: 8,
  /** Hardened dowel: bends for good beyond it, MPa; from memory. */
  pinStrengthMPa: 1000,
} as const;

/** Peak force of the bottle on the stops after falling from `heightMm`, N. */
export const peakForceN = (heightMm: number, massGrams: number, ground: Ground): number => {
  const { stoppingMm } = GROUNDS[ground];
  return (
    ((massGrams / 1000) * STANDARD_GRAVITY_MPS2 * DROP.peakFactor * (heightMm + stoppingMm)) / stoppingMm
  );
};

/** How far the cup moves in its shell, mm: the gap, all of it as if warmth had put the cup against the other side, and the give of the stop. */
export const cupMovesMm = (heightMm: number, massGrams: number, ground: Ground): number =>
  2 * STOP_GAP_MM + peakForceN(heightMm, massGrams, ground) / DROP.pins / DROP.stopStiffnessNPerMm;

export const pinStressMPa = (forceN: number): number =>
  pinBendingStressMPa(forceN / DROP.pins / 2, DROP.pinArmMm, DROP.pinDiameterMm);

/** Pressure of the foot on its pin, MPa. */
const footPressureMPa = (forceN: number): number => forceN / DROP.pins / (DROP.pinDiameterMm * DROP.footMm);

/** Margins of a fall in the plane of the cells (on an end, on the window, on the grip): each ≥ 1 survives. */
export interface FallMargins {
  readonly cell: number;
  readonly strut: number;
  readonly pin: number;
  readonly foot: number;
}

export function fallMargins(
  heightMm: number,
  massGrams: number,
  ground: Ground,
  material: HardMaterial,
): FallMargins {
  const force = peakForceN(heightMm, massGrams, ground);
  const moved = cupMovesMm(heightMm, massGrams, ground);
  return {
    cell: seatMargin(moved),
    strut: (0.9 * WIRE.tensileStrengthMPa) / strutBendingMPa(moved),
    pin: DROP.pinStrengthMPa / pinStressMPa(force),
    foot: HARD_MATERIALS[material].strengthMPa / footPressureMPa(force),
  };
}

/** Greatest height whose margins are all at least 1, mm. */
export function safeFallMm(massGrams: number, ground: Ground, material: HardMaterial): number {
  let [low, high] = [0, 5000];
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2;
    const safe = Math.min(...Object.values(fallMargins(middle, massGrams, ground, material))) >= 1;
    if (safe) low = middle;
    else high = middle;
  }
  return low;
}

/**
 * Greatest stress of a link, both ends held, that is shortened by bending out, MPa: w = A/2·(1 − cos(2πx/L)) is shorter by π²·A²/(4·L),
 * its curvature at the ends 2π²·A/L² (shape of Euler's column; by hand).
 */
export function bentOutStressMPa(lengthMm: number, shorterMm: number): number {
  const sagMm = (2 / Math.PI) * Math.sqrt(shorterMm * lengthMm);
  return (WIRE.youngsModulusMPa * ((2 * Math.PI ** 2 * sagMm) / lengthMm ** 2) * WIRE.linkDiameterMm) / 2;
}
