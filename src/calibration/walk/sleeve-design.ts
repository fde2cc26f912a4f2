/** The sleeve as drawn: what a calibration expects before measuring, and the tolerances of its fixtures. */
import { keysOf } from '../../base/typed.ts';
import { newtonsFromGrams } from '../../base/units.ts';
import type { Rows } from '../fit/linear-algebra.ts';

/** Lever that turns a pitch moment into grams, mm: moments are given as grams at this lever, so that all loads have similar size. */
export const LEVER_MM = 100;

/** Expected properties of a sleeve before it is measured. They are used to find wrong wiring and mistakes; the accuracy does not depend on them. */
export interface SleeveDesign {
  /** Positions of the front and rear cell along the bottle, mm. */
  frontCellZMm: number;
  rearCellZMm: number;
  /** Ordinary gains: axial, front, rear. */
  newtonsPerCount: readonly [number, number, number];
  cupMassGrams: number;
  cupCentreZMm: number;
  /** The real sleeve differs from its design by at most this share (gains, positions of the cells; own assumption, no source). */
  doubt: number;
}

/** The sleeve of the contract's example, section 4: the simulated one. */
export const EXAMPLE_DESIGN: SleeveDesign = {
  frontCellZMm: 95,
  rearCellZMm: 21.5,
  newtonsPerCount: [4e-6, 3.1e-6, 3.1e-6],
  cupMassGrams: 62,
  cupCentreZMm: 55,
  doubt: 0.25,
};

/** A full bottle in the sleeve, g; used as the scale for loads. */
export const FULL_LOAD_GRAMS = 450;

/** Where a stack of known mass can be put on the sleeve, in the plane of x and z. */
export const MARKS = {
  base: { xMm: 0, zMm: 15, words: 'the base mark' },
  nipple: { xMm: 0, zMm: 150, words: 'the nipple-end mark' },
  top: { xMm: 34, zMm: 80, words: 'the mark opposite the grip' },
  grip: { xMm: -34, zMm: 80, words: 'the mark on the grip side' },
} as const;
export type MarkName = keyof typeof MARKS;
/** The marks that a walk uses; the others are for further measurements. */
export const WALK_MARKS: readonly MarkName[] = ['base', 'nipple'];

/** Standard directions of the felt force in the bottle's axes, and what to tell a person. */
export const POSES = {
  upright: { f: [0, 0, 1], words: 'upright, nipple end up' },
  down: { f: [0, 0, -1], words: 'upside down, nipple end straight down' },
  level: { f: [1, 0, 0], words: 'lying level, grip underneath' },
  'level-over': { f: [-1, 0, 0], words: 'lying level, grip on top' },
  // y = z × x: with the grip underneath and the nipple away from you, y points to your right.
  'left-side': {
    f: [0, 1, 0],
    words: 'lying level on its left side (nipple away from you, grip to the right)',
  },
  'right-side': {
    f: [0, -1, 0],
    words: 'lying level on its right side (nipple away from you, grip to the left)',
  },
} as const;
export type PoseName = keyof typeof POSES;
export const POSE_NAMES = keysOf(POSES);

/**
 * Tolerances before measuring. Half-widths of uniform distributions become standard deviations by /√3
 * (JCGM 100:2008, 4.3.7). Sizes: a kitchen scale to 0.1 g, a ruler to 0.5 mm, a hand to 3° (common practice, no source); creep of a cheap
 * bar 0.05 % of the load in 20 minutes (typical of data sheets, from memory), here doubled.
 */
export interface FixtureTolerance {
  massGrams: number;
  placeMm: number;
  poseDeg: number;
  /** Random walk of a cell's zero, g/√min. */
  driftGramsPerSqrtMin: number;
  /** Error of a hold's mean beyond its own scatter (the accelerometer's noise times the load), g. */
  holdNoiseGrams: number;
  /** Share of its load by which a cell may be wrong because of creep. */
  creepShare: number;
}

export const USUAL_TOLERANCE: FixtureTolerance = {
  massGrams: 0.1,
  placeMm: 0.5,
  poseDeg: 3,
  driftGramsPerSqrtMin: 0.12,
  holdNoiseGrams: 0.02,
  creepShare: 0.001,
};

/** Standard deviation of a uniform distribution of this half-width. */
export const sdOfHalfWidth = (halfWidth: number): number => halfWidth / Math.sqrt(3);

/**
 * The drawn response: rows axial, front, rear in grams of cell load; columns Fx, Fz (g) and M (g at LEVER_MM).
 * The two transverse cells share Fx and M by the lever law.
 */
export function drawnResponse({ frontCellZMm: front, rearCellZMm: rear }: SleeveDesign): Rows {
  const span = front - rear;
  return [
    [0, 1, 0],
    [-rear / span, 0, LEVER_MM / span],
    [front / span, 0, -LEVER_MM / span],
  ];
}

/** Counts per gram of each cell as drawn. */
export const drawnCountsPerGram = ({ newtonsPerCount }: SleeveDesign): number[] =>
  newtonsPerCount.map((newtons) => newtonsFromGrams(1) / newtons);
