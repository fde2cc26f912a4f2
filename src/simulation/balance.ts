/**
 * Force of the shell on cup, bottle and milk (sleeve contract, section 1): the felt weight,
 * minus the forces of the mouth and other touches.
 */
import { STANDARD_GRAVITY_MPS2 } from '../base/units.ts';
import { feltAt, type Turn } from './turning.ts';
import type { Triple } from './vectors.ts';

/** A force on the bottle from outside, and where it acts in the x–z plane. */
export interface Touch {
  forceXN: number;
  forceZN: number;
  atXMm: number;
  atZMm: number;
  /** A moment about y without a force, N·mm, positive from z towards x. */
  coupleNmm?: number;
}

export interface Burden {
  emptyMassGrams: number;
  emptyCentreZMm: number;
  milkMassGrams: number;
  milkXMm: number;
  milkZMm: number;
}

/**
 * @param feltG specific force in the bottle's axes, g
 * @returns [Fx, Fz, M] in N, N, N·m
 */
export function shellLoads(burden: Burden, feltG: Readonly<Triple>, touches: readonly Touch[]): Triple {
  const [feltX, , feltZ] = feltG;
  const emptyN = (burden.emptyMassGrams / 1000) * STANDARD_GRAVITY_MPS2;
  const milkN = (burden.milkMassGrams / 1000) * STANDARD_GRAVITY_MPS2;
  let forceX = (emptyN + milkN) * feltX;
  let forceZ = (emptyN + milkN) * feltZ;
  let momentNmm =
    milkN * (feltX * burden.milkZMm - feltZ * burden.milkXMm) + emptyN * feltX * burden.emptyCentreZMm;
  for (const touch of touches) {
    forceX -= touch.forceXN;
    forceZ -= touch.forceZN;
    momentNmm -= touch.atZMm * touch.forceXN - touch.atXMm * touch.forceZN + (touch.coupleNmm ?? 0);
  }
  return [forceX, forceZ, momentNmm / 1000];
}

/** Further properties of the burden while it turns and moves. */
export interface MovingBurden extends Burden {
  milkYMm: number;
  /** Moments of inertia about the own centre for turning about y, over the mass, mm². The milk turns as if it were stiff. */
  emptyInertiaMm2: number;
  milkInertiaMm2: number;
  /** Acceleration of the milk's centre in the bottle, m/s², along x and z. */
  milkAccelerationX: number;
  milkAccelerationZ: number;
}

const felt: Triple = [0, 0, 0];

/**
 * Loads that turning adds to `shellLoads`: each mass feels the acceleration at its own centre (Newton), each adds its moment of inertia times
 * the angular acceleration (Euler; products of the rates are neglected: below 0.01 g for a hand), and the moving milk pushes back.
 * @param feltG specific force at `fromZMm` on the axis, as given to `shellLoads`
 * @returns [Fx, Fz, M] in N, N, N·m, to be added
 */
export function turningLoads(
  burden: MovingBurden,
  feltG: Readonly<Triple>,
  fromZMm: number,
  turn: Turn,
): Triple {
  const emptyKg = burden.emptyMassGrams / 1000;
  const milkKg = burden.milkMassGrams / 1000;
  feltAt(feltG, fromZMm, turn, [0, 0, burden.emptyCentreZMm], felt);
  const emptyXN = emptyKg * STANDARD_GRAVITY_MPS2 * (felt[0] - feltG[0]);
  const emptyZN = emptyKg * STANDARD_GRAVITY_MPS2 * (felt[2] - feltG[2]);
  feltAt(feltG, fromZMm, turn, [burden.milkXMm, burden.milkYMm, burden.milkZMm], felt);
  const milkXN = milkKg * (STANDARD_GRAVITY_MPS2 * (felt[0] - feltG[0]) + burden.milkAccelerationX);
  const milkZN = milkKg * (STANDARD_GRAVITY_MPS2 * (felt[2] - feltG[2]) + burden.milkAccelerationZ);
  const inertiaKgMm2 = emptyKg * burden.emptyInertiaMm2 + milkKg * burden.milkInertiaMm2;
  return [
    emptyXN + milkXN,
    emptyZN + milkZN,
    (emptyXN * burden.emptyCentreZMm + milkXN * burden.milkZMm - milkZN * burden.milkXMm) / 1000 +
      (inertiaKgMm2 * turn.acceleration[1]) / 1e6,
  ];
}
