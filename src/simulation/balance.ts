/**
 * Force of the shell on cup, bottle and milk (sleeve contract, section 1): what is felt as weight,
 * less what the mouth and other touches already carry. Angular acceleration is left out, as there.
 */
import { STANDARD_GRAVITY_MPS2 } from '../units.ts';
import type { Triple } from './vectors.ts';

/** A force on the bottle from outside, and where it acts in the x–z plane. */
export interface Touch {
  forceXN: number;
  forceZN: number;
  atXMm: number;
  atZMm: number;
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
    momentNmm -= touch.atZMm * touch.forceXN - touch.atXMm * touch.forceZN;
  }
  return [forceX, forceZ, momentNmm / 1000];
}
