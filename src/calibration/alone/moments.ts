/**
 * The milk's first moments as a short sum of terms that a small chip can compute: w·T_i(2w − 1)·T_j(cos tilt), T the
 * Chebyshev polynomials, w the filled share of the bottle. Fitted by least squares over the holds in which milk is
 * weighed by the balance. Pure.
 */
import { Matrix, QrDecomposition } from 'ml-matrix';
import { radFromDeg } from '../../base/units.ts';
import {
  type InnerProfileMm,
  type MilkMoments,
  milkMoments,
  tabulateMilkCentre,
} from '../../sensing/loads/milk-centre.ts';

const VOLUME_TERMS = 4;
const TILT_TERMS = 7;
/** Tilts in a feed; below this the balance depends little on the milk. */
const FROM_DEG = 45;
const TO_DEG = 180;
const STEP_DEG = 3;
const VOLUMES = 24;

export interface FittedMoments {
  capacityMl: number;
  /** V·zc/lever and V·xc/(sin tilt·lever), mL: term i of the volume and j of the tilt at i·TILT_TERMS + j. */
  z: number[];
  x: number[];
}

/** T_0 … T_{count−1} at t. */
function chebyshev(t: number, count: number): number[] {
  const terms = [1, t];
  while (terms.length < count) terms.push(2 * t * terms.at(-1)! - terms.at(-2)!);
  return terms.slice(0, count);
}

export function termsAt(share: number, tiltRad: number): number[] {
  const tilts = chebyshev(Math.cos(tiltRad), TILT_TERMS);
  return chebyshev(2 * share - 1, VOLUME_TERMS).flatMap((v) => tilts.map((t) => share * v * t));
}

export function fitMoments(profile: InnerProfileMm, leverM: number): FittedMoments {
  const table = tabulateMilkCentre(profile);
  const rows: number[][] = [];
  const z: number[][] = [];
  const x: number[][] = [];
  const moments: MilkMoments = { zMlM: 0, xMlM: 0 };
  for (let deg = FROM_DEG; deg <= TO_DEG; deg += STEP_DEG)
    for (let level = 1; level <= VOLUMES; level++) {
      const share = level / VOLUMES;
      // At 180° the sine is 0, which would be a division by 0.
      const tiltRad = radFromDeg(Math.min(deg, 178));
      milkMoments(table, share * table.capacityMl, tiltRad, moments);
      rows.push(termsAt(share, tiltRad));
      z.push([moments.zMlM / leverM]);
      x.push([moments.xMlM / leverM / Math.sin(tiltRad)]);
    }
  const solve = new QrDecomposition(new Matrix(rows));
  return {
    capacityMl: table.capacityMl,
    z: solve.solve(new Matrix(z)).to1DArray(),
    x: solve.solve(new Matrix(x)).to1DArray(),
  };
}
