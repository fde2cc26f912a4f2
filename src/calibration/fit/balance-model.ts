/**
 * Model of the balance: expected cell readings as a function of the unknowns, compared with the measured ones. Unknowns, in order: zeros (3, drawn grams), response (9, by
 * rows), cup mass (g) and centre (mm), the accelerometer's turn (3, rad), each stack's mass error (g), each placement's error (x and z, mm).
 */
import { mapTriple } from '../../base/typed.ts';
import type { Triple } from '../walk/hold.ts';
import {
  drawnCountsPerGram,
  drawnResponse,
  type FixtureTolerance,
  LEVER_MM,
  MARKS,
  POSES,
  type SleeveDesign,
  sdOfHalfWidth,
} from '../walk/sleeve-design.ts';
import { type AccelerometerFit, feltDirection, smallTurn } from './accelerometer.ts';
import type { BalanceObservation } from './balance.ts';
import { whitener } from './least-squares.ts';
import { timesVector } from './linear-algebra.ts';
import { cellBurdens, readingCovariance } from './reading-errors.ts';

/** Prior spread of a response entry (without unit), cup mass (g) and centre (mm): wide, so that they do not affect a measured value. */
const LOOSE = { response: 0.3, cupMassGrams: 60, cupCentreMm: 40 } as const;

/** Index of each unknown. */
export const AT = { zero: 0, response: 3, cup: 12, turn: 14, fixtures: 17 } as const;

export interface BalanceModel {
  placements: string[];
  /** Index of a placement's error among the unknowns. */
  placementAt(name: string): number;
  start: number[];
  /** Step sizes for the numeric derivative. */
  scale: number[];
  /** Whitened residuals, priors included. */
  residuals(u: readonly number[]): number[];
  /** By cell and observation: reading minus fit, drawn grams. */
  cellErrors(u: readonly number[]): number[][];
}

/** @param observations at least one; zeros are counted from the first */
// biome-ignore lint/complexity/noExcessiveLinesPerFunction: the parts of one model share what was read once, not at each try of the fit
export function balanceModel(
  observations: readonly BalanceObservation[],
  accelerometer: AccelerometerFit,
  tolerance: FixtureTolerance,
  design: SleeveDesign,
): BalanceModel {
  const { stacks, placements } = fixturesOf(observations);
  const stackAt = (name: string): number => AT.fixtures + stacks.indexOf(name);
  const placementAt = (name: string): number => AT.fixtures + stacks.length + 2 * placements.indexOf(name);
  const felt = observations.map(({ hold }) => unit(feltDirection(accelerometer, hold.accelerometer)));
  const readings = readingsOf(observations, design);
  const drawn = drawnResponse(design).flat();
  const whiten = cellBurdens(observations, design).map((burden) =>
    whitener(readingCovariance(observations, tolerance, burden, design)),
  );

  const loadsOf = (u: readonly number[]): number[][] => {
    const turn = turnOf(u);
    return observations.map(({ placed }, k) => {
      const f = timesVector(turn, felt[k]!);
      let mass = u[AT.cup]!;
      let momentX = u[AT.cup]! * u[AT.cup + 1]! * f[0]!;
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
      const row = AT.response + 3 * cell;
      return loads.map(
        ([fx, fz, m], k) =>
          readings[k]![cell]! - (u[AT.zero + cell]! + u[row]! * fx! + u[row + 1]! * fz! + u[row + 2]! * m!),
      );
    });
  };
  const priors = (u: readonly number[]): number[] => [
    ...drawn.map((entry, i) => (u[AT.response + i]! - entry) / LOOSE.response),
    (u[AT.cup]! - design.cupMassGrams) / LOOSE.cupMassGrams,
    (u[AT.cup + 1]! - design.cupCentreZMm) / LOOSE.cupCentreMm,
    ...stacks.map((name) => u[stackAt(name)]! / sdOfHalfWidth(tolerance.massGrams)),
    ...u.slice(AT.fixtures + stacks.length).map((mm) => mm / sdOfHalfWidth(tolerance.placeMm)),
  ];
  /** Each pose also gives a rough direction of the sleeve's axes. */
  const poseErrors = (u: readonly number[]): number[] => {
    const sd = (sdOfHalfWidth(tolerance.poseDeg) * Math.PI) / 180;
    const turn = turnOf(u);
    return observations.flatMap(({ pose }, k) => {
      const f = timesVector(turn, felt[k]!);
      return POSES[pose].f.flatMap((want, axis) => (want === 0 ? [f[axis]! / sd] : []));
    });
  };
  const each = <T>(names: readonly string[], value: T): T[] => names.map(() => value);
  return {
    placements,
    placementAt,
    start: [
      ...[0, 0, 0, ...drawn, design.cupMassGrams, design.cupCentreZMm, 0, 0, 0],
      ...each(stacks, 0),
      ...each(placements, [0, 0]).flat(),
    ],
    scale: [
      ...[1, 1, 1, ...drawn.map(() => 0.1), 10, 10, 0.01, 0.01, 0.01],
      ...each(stacks, 0.1),
      ...each(placements, [0.5, 0.5]).flat(),
    ],
    residuals: (u) => [
      ...cellErrors(u).flatMap((errors, cell) => whiten[cell]!(errors)),
      ...priors(u),
      ...poseErrors(u),
    ],
    cellErrors,
  };
}

const turnOf = (u: readonly number[]): number[][] =>
  smallTurn([u[AT.turn]!, u[AT.turn + 1]!, u[AT.turn + 2]!]);

function readingsOf(observations: readonly BalanceObservation[], design: SleeveDesign): number[][] {
  const countsPerGram = drawnCountsPerGram(design);
  const reference = observations[0]!.hold.cells;
  return observations.map(({ hold }) =>
    hold.cells.map((counts, i) => (counts - reference[i]!) / countsPerGram[i]!),
  );
}

function fixturesOf(observations: readonly BalanceObservation[]): { stacks: string[]; placements: string[] } {
  const placed = observations.flatMap((observation) => observation.placed ?? []);
  return {
    stacks: [...new Set(placed.map(({ stack }) => stack))],
    placements: [...new Set(placed.map(({ placement }) => placement))],
  };
}

function unit(v: Triple): Triple {
  const size = Math.hypot(...v);
  return mapTriple(v, (entry) => entry / size);
}
