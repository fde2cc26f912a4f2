/**
 * The three-component balance, found from poses × known masses: 3×3 load matrix, zeros, crosstalk, the cup's own mass and centre,
 * and the last bit of the accelerometer's orientation, all in one weighted least-squares fit.
 *
 * What the fixtures get wrong (a stack's mass, where it was put) is unknown too, with its tolerance as prior knowledge, and zeros
 * walk as time goes on; so the covariance of the result holds all of it. Loads: grams, moments as grams at LEVER_MM.
 */

import type { Hold, Triple } from '../walk/hold.ts';
import {
  drawnCountsPerGram,
  drawnResponse,
  EXAMPLE_DESIGN,
  type FixtureTolerance,
  LEVER_MM,
  MARKS,
  type MarkName,
  POSES,
  type PoseName,
  type SleeveDesign,
  sdOfHalfWidth,
  USUAL_TOLERANCE,
} from '../walk/sleeve-design.ts';
import { type AccelerometerFit, feltDirection, smallTurn, turned } from './accelerometer.ts';
import { fitLeastSquares, whitener } from './least-squares.ts';
import { inverseOf, type Rows, timesVector } from './linear-algebra.ts';
import { cellBurdens, creepCovariance, readingCovariance } from './reading-errors.ts';

/** A stack of known mass at a mark. Holds of one `placement` share one putting on, and with it its error. */
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
  /** What was expected of the sleeve: its grams are what counts are kept in. */
  design: SleeveDesign;
  /** Counts without any load at the time of the last hold. */
  zeroCounts: Triple;
  zeroAtSec: number;
  /** Rows Fx (N), Fz (N), M (N·m); columns axial, front, rear (sleeve contract, section 4). */
  loadPerCount: [Triple, Triple, Triple];
  /** Rows cells, in drawn grams; columns Fx, Fz, M. */
  response: Rows;
  /** Covariance of zeros (3, drawn grams), response (9, by rows) and the accelerometer's turn (3, rad): they hang together. */
  covariance: Rows;
  /** The part of it that creep makes (type B). */
  creepCovariance: Rows;
  accelerometer: AccelerometerFit;
  turnSdRad: Triple;
  cupMassGrams: number;
  cupCentreZMm: number;
  /** By observation: reading less fit of each cell, g. */
  residualGrams: Triple[];
  /** By placement: where it seems to have been against its mark, mm, and in standard deviations of its tolerance. */
  placements: { placement: string; mark: MarkName; offXMm: number; offZMm: number; sigmas: number }[];
  /** Chi-square per degree of freedom: about 1 when noise and tolerances are as stated. */
  reducedChiSquare: number;
}

const NEWTONS_PER_GRAM = 0.00980665;
/** Prior spread of a response entry (without unit), cup mass (g) and centre (mm): loose, to start with, and gone once measured. */
const LOOSE = { response: 0.3, cupMassGrams: 60, cupCentreMm: 40 } as const;
const ZERO = 0;
const RESPONSE = 3;
const CUP = 12;
const TURN = 14;
const FIXTURES = 17;
/** Zeros, response, turn. */
const RESULTS = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, TURN, TURN + 1, TURN + 2];

/**
 * @param observations at least one; whether they determine the matrix is asked apart (determinacy.ts)
 * @returns null when the fit does not settle
 */
export function fitBalance(
  observations: readonly BalanceObservation[],
  accelerometer: AccelerometerFit,
  tolerance: FixtureTolerance = USUAL_TOLERANCE,
  design: SleeveDesign = EXAMPLE_DESIGN,
): BalanceFit | null {
  const countsPerGram = drawnCountsPerGram(design);
  const reference = observations[0]!.hold.cells;
  const readings = observations.map(({ hold }) =>
    hold.cells.map((counts, i) => (counts - reference[i]!) / countsPerGram[i]!),
  );
  const felt = observations.map(({ hold }) => unit(feltDirection(accelerometer, hold.accelerometer)));
  const { stacks, placements } = fixturesOf(observations);
  const stackAt = (name: string): number => FIXTURES + stacks.indexOf(name);
  const placementAt = (name: string): number => FIXTURES + stacks.length + 2 * placements.indexOf(name);
  const drawn = drawnResponse(design).flat();
  const burdens = cellBurdens(observations, design);
  const whiten = burdens.map((burden) =>
    whitener(readingCovariance(observations, tolerance, burden, design)),
  );
  const poseSd = (sdOfHalfWidth(tolerance.poseDeg) * Math.PI) / 180;

  const loadsOf = (u: readonly number[]): number[][] => {
    const turn = smallTurn([u[TURN]!, u[TURN + 1]!, u[TURN + 2]!]);
    return observations.map(({ placed }, k) => {
      const f = timesVector(turn, felt[k]!);
      let mass = u[CUP]!;
      let momentX = u[CUP]! * u[CUP + 1]! * f[0]!;
      if (placed) {
        const grams = placed.massGrams + u[stackAt(placed.stack)]!;
        const at = placementAt(placed.placement);
        mass += grams;
        momentX +=
          grams * ((MARKS[placed.mark].zMm + u[at + 1]!) * f[0]! - (MARKS[placed.mark].xMm + u[at]!) * f[2]!);
      }
      return [mass * f[0]!, mass * f[2]!, momentX / LEVER_MM];
    });
  };

  const cellErrors = (u: readonly number[]): number[][] => {
    const loads = loadsOf(u);
    return [0, 1, 2].map((cell) => {
      const row = RESPONSE + 3 * cell;
      return loads.map(
        ([fx, fz, m], k) =>
          readings[k]![cell]! - (u[ZERO + cell]! + u[row]! * fx! + u[row + 1]! * fz! + u[row + 2]! * m!),
      );
    });
  };

  const residuals = (u: readonly number[]): number[] => {
    const out = cellErrors(u).flatMap((errors, cell) => whiten[cell]!(errors));
    for (let i = 0; i < 9; i++) out.push((u[RESPONSE + i]! - drawn[i]!) / LOOSE.response);
    out.push((u[CUP]! - design.cupMassGrams) / LOOSE.cupMassGrams);
    out.push((u[CUP + 1]! - design.cupCentreZMm) / LOOSE.cupCentreMm);
    for (const name of stacks) out.push(u[stackAt(name)]! / sdOfHalfWidth(tolerance.massGrams));
    for (let i = 0; i < 2 * placements.length; i++) {
      out.push(u[FIXTURES + stacks.length + i]! / sdOfHalfWidth(tolerance.placeMm));
    }
    // Each pose also tells, coarsely, where the sleeve's axes are.
    const turn = smallTurn([u[TURN]!, u[TURN + 1]!, u[TURN + 2]!]);
    observations.forEach(({ pose }, k) => {
      const f = timesVector(turn, felt[k]!);
      POSES[pose].f.forEach((want, axis) => {
        if (want === 0) out.push(f[axis]! / poseSd);
      });
    });
    return out;
  };

  const start = [0, 0, 0, ...drawn, design.cupMassGrams, design.cupCentreZMm, 0, 0, 0];
  const scale = [1, 1, 1, ...drawn.map(() => 0.1), 10, 10, 0.01, 0.01, 0.01];
  for (const _ of stacks) {
    start.push(0);
    scale.push(0.1);
  }
  for (let i = 0; i < 2 * placements.length; i++) {
    start.push(0);
    scale.push(0.5);
  }
  const fit = fitLeastSquares(residuals, start, scale);
  if (!fit?.converged) return null;

  const u = fit.unknowns;
  const response = [0, 1, 2].map((cell) => u.slice(RESPONSE + 3 * cell, RESPONSE + 3 * cell + 3));
  const turnSdRad = [0, 1, 2].map((i) => Math.sqrt(fit.covariance[TURN + i]![TURN + i]!)) as Triple;
  const errors = cellErrors(u);
  const creep = creepCovariance(response, tolerance);
  return {
    design,
    zeroCounts: reference.map((counts, i) => counts + u[ZERO + i]! * countsPerGram[i]!) as Triple,
    zeroAtSec: Math.max(...observations.map(({ hold }) => hold.atSec)),
    loadPerCount: loadPerCountOf(response, countsPerGram),
    response,
    covariance: RESULTS.map((i, a) => RESULTS.map((j, b) => fit.covariance[i]![j]! + creep[a]![b]!)),
    creepCovariance: creep,
    accelerometer: turned(accelerometer, [u[TURN]!, u[TURN + 1]!, u[TURN + 2]!]),
    turnSdRad,
    cupMassGrams: u[CUP]!,
    cupCentreZMm: u[CUP + 1]!,
    residualGrams: observations.map((_, k) => errors.map((row) => row[k]!) as Triple),
    placements: placements.map((placement) => {
      const at = placementAt(placement);
      const mark = observations.find(({ placed }) => placed?.placement === placement)!.placed!.mark;
      const sd = sdOfHalfWidth(tolerance.placeMm);
      return {
        placement,
        mark,
        offXMm: u[at]!,
        offZMm: u[at + 1]!,
        sigmas: Math.max(Math.abs(u[at]!), Math.abs(u[at + 1]!)) / sd,
      };
    }),
    reducedChiSquare: fit.chiSquare / Math.max(1, fit.degreesOfFreedom),
  };
}

function fixturesOf(observations: readonly BalanceObservation[]): { stacks: string[]; placements: string[] } {
  const placed = observations.flatMap((observation) => observation.placed ?? []);
  return {
    stacks: [...new Set(placed.map(({ stack }) => stack))],
    placements: [...new Set(placed.map(({ placement }) => placement))],
  };
}

function loadPerCountOf(response: Rows, countsPerGram: readonly number[]): [Triple, Triple, Triple] {
  const units = [NEWTONS_PER_GRAM, NEWTONS_PER_GRAM, (NEWTONS_PER_GRAM * LEVER_MM) / 1000];
  return inverseOf(response).map((row, load) =>
    row.map((entry, cell) => (entry * units[load]!) / countsPerGram[cell]!),
  ) as [Triple, Triple, Triple];
}

/**
 * Covariance of the load that the fit would report where the true load is `load` (Fx g, Fz g, M g at LEVER_MM): C⁻¹·(δzero + δC·load).
 */
export function loadCovariance(fit: BalanceFit, load: Readonly<Triple>): Rows {
  const inverse = inverseOf(fit.response);
  // d(reading of a cell)/d(zeros and response).
  const slopes = [0, 1, 2].map((cell) => {
    const row = new Array<number>(12).fill(0);
    row[ZERO + cell] = 1;
    for (let j = 0; j < 3; j++) row[RESPONSE + 3 * cell + j] = load[j]!;
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

function unit(v: Triple): Triple {
  const size = Math.hypot(...v);
  return v.map((entry) => entry / size) as Triple;
}
