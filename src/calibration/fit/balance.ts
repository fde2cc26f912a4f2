/**
 * Calibration of the three-component balance from poses and known masses: 3×3 load matrix, zeros, crosstalk, the cup's own mass and centre,
 * and a fine correction of the accelerometer's orientation, all in one weighted least-squares fit.
 *
 * Errors of the fixtures (mass of a stack, place of a mass) are unknowns with their tolerance as prior, and the zeros are a random walk in
 * time; so the covariance of the result includes all of these. Loads: grams, moments as grams at LEVER_MM.
 */

import { mapTriple, tripleOf } from '../../base/typed.ts';
import { newtonsFromGrams } from '../../base/units.ts';
import type { Hold, Triple } from '../walk/hold.ts';
import {
  drawnCountsPerGram,
  EXAMPLE_DESIGN,
  type FixtureTolerance,
  LEVER_MM,
  type MarkName,
  type PoseName,
  type SleeveDesign,
  sdOfHalfWidth,
  USUAL_TOLERANCE,
} from '../walk/sleeve-design.ts';
import { type AccelerometerFit, turned } from './accelerometer.ts';
import { AT, type BalanceModel, balanceModel } from './balance-model.ts';
import { fitLeastSquares } from './least-squares.ts';
import { inverseOf, type Rows } from './linear-algebra.ts';
import { creepCovariance } from './reading-errors.ts';

/** A stack of known mass at a mark. Holds of one `placement` share the error of that placement. */
export interface PlacedMass {
  stack: string;
  massGrams: number;
  mark: MarkName;
  placement: string;
}

export interface BalanceObservation {
  hold: Hold;
  pose: PoseName;
  placed: PlacedMass | null;
}

export interface BalanceFit {
  /** The design: "drawn grams" are counts converted by its gains. */
  design: SleeveDesign;
  /** Counts without any load at the time of the last hold. */
  zeroCounts: Triple;
  zeroAtSec: number;
  /** Rows Fx (N), Fz (N), M (N·m); columns axial, front, rear (sleeve contract, section 4). */
  loadPerCount: [Triple, Triple, Triple];
  /** Rows cells, in drawn grams; columns Fx, Fz, M. */
  response: Rows;
  /** Covariance of zeros (3, drawn grams), response (9, by rows) and the accelerometer's turn (3, rad): they are correlated. */
  covariance: Rows;
  /** The part of it caused by creep (type B). */
  creepCovariance: Rows;
  accelerometer: AccelerometerFit;
  turnSdRad: Triple;
  cupMassGrams: number;
  cupCentreZMm: number;
  /** By observation: reading minus fit of each cell, g. */
  residualGrams: Triple[];
  /** By placement: estimated distance from its mark, mm, and the same in standard deviations of its tolerance. */
  placements: { placement: string; mark: MarkName; offXMm: number; offZMm: number; sigmas: number }[];
  /** Chi-square per degree of freedom: about 1 when noise and tolerances are as stated. */
  reducedChiSquare: number;
}

/** Zeros, response, turn. */
const RESULTS = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, AT.turn, AT.turn + 1, AT.turn + 2];

/**
 * @param observations at least one; whether they determine the matrix is checked in determinacy.ts
 * @returns null when the fit does not converge
 */
export function fitBalance(
  observations: readonly BalanceObservation[],
  accelerometer: AccelerometerFit,
  tolerance: FixtureTolerance = USUAL_TOLERANCE,
  design: SleeveDesign = EXAMPLE_DESIGN,
): BalanceFit | null {
  const model = balanceModel(observations, accelerometer, tolerance, design);
  const fit = fitLeastSquares(model.residuals, model.start, model.scale);
  if (!fit?.converged) return null;
  const u = fit.unknowns;
  const countsPerGram = drawnCountsPerGram(design);
  const reference = observations[0]!.hold.cells;
  const response = [0, 1, 2].map((cell) => u.slice(AT.response + 3 * cell, AT.response + 3 * cell + 3));
  const errors = model.cellErrors(u);
  const creep = creepCovariance(response, tolerance);
  return {
    design,
    zeroCounts: mapTriple(reference, (counts, i) => counts + u[AT.zero + i]! * countsPerGram[i]!),
    zeroAtSec: Math.max(...observations.map(({ hold }) => hold.atSec)),
    loadPerCount: loadPerCountOf(response, countsPerGram),
    response,
    covariance: RESULTS.map((i, a) => RESULTS.map((j, b) => fit.covariance[i]![j]! + creep[a]![b]!)),
    creepCovariance: creep,
    accelerometer: turned(accelerometer, [u[AT.turn]!, u[AT.turn + 1]!, u[AT.turn + 2]!]),
    turnSdRad: mapTriple([0, 1, 2], (i) => Math.sqrt(fit.covariance[AT.turn + i]![AT.turn + i]!)),
    cupMassGrams: u[AT.cup]!,
    cupCentreZMm: u[AT.cup + 1]!,
    residualGrams: observations.map((_, k) => tripleOf(errors.map((row) => row[k]!))),
    placements: placementsOf(observations, model, u, tolerance),
    reducedChiSquare: fit.chiSquare / Math.max(1, fit.degreesOfFreedom),
  };
}

const placementsOf = (
  observations: readonly BalanceObservation[],
  { placements, placementAt }: BalanceModel,
  u: readonly number[],
  tolerance: FixtureTolerance,
): BalanceFit['placements'] =>
  placements.map((placement) => {
    const [offXMm, offZMm] = [u[placementAt(placement)]!, u[placementAt(placement) + 1]!];
    return {
      placement,
      mark: observations.find(({ placed }) => placed?.placement === placement)!.placed!.mark,
      offXMm,
      offZMm,
      sigmas: Math.max(Math.abs(offXMm), Math.abs(offZMm)) / sdOfHalfWidth(tolerance.placeMm),
    };
  });

function loadPerCountOf(response: Rows, countsPerGram: readonly number[]): [Triple, Triple, Triple] {
  const newtons = newtonsFromGrams(1);
  const units = [newtons, newtons, (newtons * LEVER_MM) / 1000];
  const rows = inverseOf(response).map((row, load) =>
    tripleOf(row.map((entry, cell) => (entry * units[load]!) / countsPerGram[cell]!)),
  );
  return tripleOf(rows);
}

/**
 * Covariance of the load computed with this fit, for a true load `load` (Fx g, Fz g, M g at LEVER_MM): C⁻¹·(δzero + δC·load).
 */
export function loadCovariance(fit: BalanceFit, load: Readonly<Triple>): Rows {
  const inverse = inverseOf(fit.response);
  // d(reading of a cell)/d(zeros and response).
  const slopes = [0, 1, 2].map((cell) => {
    const row = new Array<number>(12).fill(0);
    row[AT.zero + cell] = 1;
    for (let j = 0; j < 3; j++) row[AT.response + 3 * cell + j] = load[j]!;
    return row;
  });
  const toLoads = inverse.map((row) =>
    slopes[0]!.map((_, k) => row.reduce((sum, entry, cell) => sum + entry * slopes[cell]![k]!, 0)),
  );
  return toLoads.map((left) =>
    toLoads.map((right) =>
      left.reduce(
        (sum, a, i) => sum + a * right.reduce((inner, b, j) => inner + fit.covariance[i]![j]! * b, 0),
        0,
      ),
    ),
  );
}
