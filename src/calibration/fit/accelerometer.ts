/**
 * The accelerometer: at rest it feels 1 g in every pose, so its readings lie on an ellipsoid given by bias, scales and
 * skew. It is turned to the sleeve's axes by poses with known directions.
 */

import { PlainError } from '../../base/errors.ts';
import { tripleOf } from '../../base/typed.ts';
import type { Triple } from '../walk/hold.ts';
import { fitLeastSquares } from './least-squares.ts';
import {
  determinantOf,
  dot,
  inverseOf,
  type Rows,
  singularParts,
  timesMatrix,
  timesVector,
  transpose,
} from './linear-algebra.ts';

const COUNTS_PER_G = 8192;

/** Prior standard deviations (wide: a chip outside them is broken), and that of the mean of one still reading, g. */
const PRIOR = { biasG: 0.2, scale: 0.1, skew: 0.03 } as const;
const READING_SD_G = 0.0003;
/** A larger scatter of the fitted |f|, g, means that the chip was not at rest. */
const MAX_RMS_G = 0.01;

/** f = rotation · shape · (reading/8192 − biasG). */
export interface AccelerometerFit {
  biasG: Triple;
  /** Symmetric: 1/scale on the diagonal, skew off the diagonal; it contains no rotation. */
  shape: Rows;
  /** From the chip's axes to the sleeve's. */
  rotation: Rows;
  biasSdG: Triple;
  /** Standard deviations of the diagonal and the three skews (xy, xz, yz) of `shape`. */
  shapeSd: number[];
  /** Root mean square of |f| − 1 over the readings, g. */
  rmsG: number;
  readings: number;
}

const shapeOf = (u: readonly number[]): Rows => [
  [u[3]!, u[6]!, u[7]!],
  [u[6]!, u[4]!, u[8]!],
  [u[7]!, u[8]!, u[5]!],
];

/**
 * Ellipsoid fit: bias and shape such that every still reading has the length 1 g. Geometric (it minimises the length's error itself).
 * Six poses along the axes give bias and scale; skew needs leaning poses or a tumble, else it stays at its prior 0 ± 0.03.
 * @param readings means of still readings, 1/8192 g, in at least six directions
 * @throws PlainError accelerometer-directions, accelerometer-fit
 */
export function fitEllipsoid(readings: readonly Readonly<Triple>[]): AccelerometerFit {
  const inG = readings.map((reading) => reading.map((counts) => counts / COUNTS_PER_G));
  refuseOneSided(inG);
  const residuals = (u: readonly number[]): number[] => {
    const shape = shapeOf(u);
    return [
      ...inG.map((a) => (length(timesVector(shape, offBias(a, u))) - 1) / READING_SD_G),
      ...[0, 1, 2].map((i) => u[i]! / PRIOR.biasG),
      ...[3, 4, 5].map((i) => (u[i]! - 1) / PRIOR.scale),
      ...[6, 7, 8].map((i) => u[i]! / PRIOR.skew),
    ];
  };
  const scales = new Array<number>(9).fill(0.1);
  const fit = fitLeastSquares(residuals, [0, 0, 0, 1, 1, 1, 0, 0, 0], scales);
  const errors = fit?.residuals.slice(0, inG.length) ?? [];
  const rmsG = READING_SD_G * Math.sqrt(dot(errors, errors) / Math.max(1, errors.length));
  if (!fit?.converged || !(rmsG < MAX_RMS_G)) {
    throw new PlainError(
      'accelerometer-fit',
      'The readings of the accelerometer do not fit one steady pull of gravity.',
      'Set the sleeve down before each reading and keep it still; if that does not help, check how the chip is mounted and wired.',
    );
  }
  const sd = fit.covariance.map((row, i) => Math.sqrt(row[i]!));
  return {
    biasG: tripleOf(fit.unknowns),
    shape: shapeOf(fit.unknowns),
    rotation: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
    biasSdG: tripleOf(sd),
    shapeSd: sd.slice(3),
    rmsG,
    readings: readings.length,
  };
}

/** Each axis must have been measured pointing up and pointing down. */
function refuseOneSided(inG: readonly number[][]): void {
  const missing: string[] = [];
  for (let axis = 0; axis < 3; axis++) {
    const along = inG.map((a) => a[axis]!);
    const span = Math.max(...along) - Math.min(...along);
    if (!(span > 1.4)) missing.push('xyz'[axis]!);
  }
  if (missing.length === 0) return;
  throw new PlainError(
    'accelerometer-directions',
    `The accelerometer’s ${missing.join(' and ')} ax${missing.length > 1 ? 'es have' : 'is has'} not been seen both up and down.`,
    'Take all six poses: upright, upside down, level with the grip underneath and on top, and on both sides.',
  );
}

/** A direction in the chip's axes and the same in the sleeve's axes. */
export interface KnownDirection {
  reading: Readonly<Triple>;
  sleeve: readonly number[];
}

/**
 * Turns a fit to the sleeve's axes: the rotation that brings the seen directions closest to the known ones (Wahba 1965, by polar
 * decomposition). Its error is that of a pose divided by the root of their number; the load fit refines it.
 * @throws PlainError accelerometer-mirrored, accelerometer-poses
 */
export function orient(fit: AccelerometerFit, known: readonly KnownDirection[]): AccelerometerFit {
  const upright = { ...fit, rotation: unitRotation() };
  const cross = [0, 1, 2].map(() => [0, 0, 0]);
  for (const { reading, sleeve } of known) {
    const seen = feltDirection(upright, reading);
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) cross[i]![j]! += sleeve[i]! * seen[j]!;
  }
  if (!(singularParts(cross).values[2]! > 0.3)) {
    throw new PlainError(
      'accelerometer-poses',
      'The poses taken do not tell how the accelerometer is turned in the sleeve.',
      'Take the poses upright, level and on one side.',
    );
  }
  if (determinantOf(cross) < 0) {
    throw new PlainError(
      'accelerometer-mirrored',
      'The accelerometer sees the poses as in a mirror: one axis is reversed, or two poses were mixed up.',
      'Repeat the poses on the left and right side; if the message comes again, check the axes in the firmware.',
    );
  }
  return { ...fit, rotation: nearestRotation(cross) };
}

const unitRotation = (): Rows => [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

/** Rotation part of a polar decomposition, by Newton's iteration (Higham 1986). */
function nearestRotation(matrix: Rows): Rows {
  let near = matrix;
  for (let i = 0; i < 40; i++) {
    const other = transpose(inverseOf(near));
    near = near.map((row, r) => row.map((entry, c) => (entry + other[r]![c]!) / 2));
  }
  return near;
}

/** @returns the felt direction in the sleeve's axes, g; about 1 long at rest */
export function feltDirection(fit: AccelerometerFit, reading: Readonly<Triple>): Triple {
  const a = reading.map((counts) => counts / COUNTS_PER_G);
  return tripleOf(timesVector(fit.rotation, timesVector(fit.shape, offBias(a, fit.biasG))));
}

/** Small turn by the rotation vector `turnRad`, exact (Rodrigues). */
export function smallTurn([x, y, z]: readonly [number, number, number]): Rows {
  const angle = Math.hypot(x, y, z);
  const s = angle > 1e-12 ? Math.sin(angle) / angle : 1;
  const c = angle > 1e-12 ? (1 - Math.cos(angle)) / (angle * angle) : 0.5;
  return [
    [1 - c * (y * y + z * z), c * x * y - s * z, c * x * z + s * y],
    [c * x * y + s * z, 1 - c * (x * x + z * z), c * y * z - s * x],
    [c * x * z - s * y, c * y * z + s * x, 1 - c * (x * x + y * y)],
  ];
}

/** The fit with an additional small rotation. */
export const turned = (
  fit: AccelerometerFit,
  turnRad: readonly [number, number, number],
): AccelerometerFit => ({
  ...fit,
  rotation: timesMatrix(smallTurn(turnRad), fit.rotation),
});

/** The form of the calibration file: f = alignment · ((reading/8192 − biasG)/scale) (sleeve contract, section 4). */
export function accelerometerEntry(fit: AccelerometerFit): {
  biasG: Triple;
  scale: Triple;
  alignment: [Triple, Triple, Triple];
} {
  const whole = timesMatrix(fit.rotation, fit.shape);
  const scale = tripleOf(transpose(whole).map((column) => 1 / length(column)));
  const alignment = whole.map((row) => tripleOf(row.map((entry, j) => entry * scale[j]!)));
  return { biasG: [...fit.biasG], scale, alignment: tripleOf(alignment) };
}

const length = (v: readonly number[]): number => Math.sqrt(dot(v, v));
const offBias = (a: readonly number[], bias: readonly number[]): number[] =>
  a.map((value, i) => value - bias[i]!);
