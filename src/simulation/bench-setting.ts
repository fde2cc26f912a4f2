/** Settings of a simulated calibration: errors of fixtures, content of the sleeve, samples. */
import type { BottleShape } from './bottle.ts';
import type { SleeveConstants } from './drawn-sleeve.ts';
import type { SensorParameters } from './sensors.ts';

/** A sample as sensing takes it. */
export interface BenchSample {
  atSec: number;
  cells: [number, number, number];
  accelerometer: [number, number, number];
  flags: number;
  missingBefore: number;
  resetBefore: boolean;
}

/** Half-widths of uniform errors. */
export interface BenchErrors {
  massGrams: number;
  placeMm: number;
  poseDeg: number;
  /** Mounting of the chip: rotation about each axis, and skew of its axes (1 sd). */
  chipTurnDeg: number;
  chipSkew: number;
  /** Share of a load that a cell shows late (or too much at first); drawn for each cell. */
  creepShare: number;
}

export const REALISTIC_ERRORS: BenchErrors = {
  massGrams: 0.1,
  placeMm: 0.5,
  poseDeg: 3,
  chipTurnDeg: 1.5,
  chipSkew: 0.003,
  creepShare: 0,
};

export interface BenchOptions {
  seed: number;
  errors?: BenchErrors;
  bottle?: BottleShape;
  sensors?: Partial<SensorParameters>;
  sleeve?: SleeveConstants;
}

/** Content of the sleeve. */
export interface BenchLoad {
  /** Masses by their marks: nominal grams and place. Masses with the same `putOn` share one placement. */
  masses?: readonly { stack: string; grams: number; xMm: number; zMm: number; putOn: string }[];
  /** The bottle, with this much water or milk. */
  bottleWithGrams?: number | null;
  /** A finger at the tip of the nipple: force on the bottle, N, sideways (x) and along (z). */
  push?: { xN: number; zN: number };
  /** How much the hand trembles, degrees (1 sd); 0 at rest on a table. */
  tremorDeg?: number;
}
