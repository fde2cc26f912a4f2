import { mapTriple } from '../base/typed.ts';
/** Three numbers in a row: cells (axial, front, rear), axes (x, y, z) or loads (Fx, Fz, M). */
export type Triple = [number, number, number];
/** Rows of a 3×3 matrix. */
export type Matrix = [Triple, Triple, Triple];

export const times = (matrix: Matrix, [a, b, c]: Readonly<Triple>): Triple =>
  mapTriple(matrix, (row) => row[0] * a + row[1] * b + row[2] * c);

/** @throws RangeError when the matrix cannot be inverted */
export function inverse(matrix: Matrix): Matrix {
  const [[a, b, c], [d, e, f], [g, h, i]] = matrix;
  const determinant = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  if (determinant === 0)
    throw new RangeError('The load matrix cannot be inverted: its rows are not independent.');
  const rows: Matrix = [
    [e * i - f * h, c * h - b * i, b * f - c * e],
    [f * g - d * i, a * i - c * g, c * d - a * f],
    [d * h - e * g, b * g - a * h, a * e - b * d],
  ];
  return mapTriple(rows, (row) => mapTriple(row, (entry) => entry / determinant));
}
export function unit(v: Readonly<Triple>): Triple {
  const size = Math.hypot(...v);
  return mapTriple(v, (entry) => entry / size);
}
/** Two unit vectors at right angles to `v` and to each other. */
export function across(v: Readonly<Triple>): [Triple, Triple] {
  const helper: Triple = Math.abs(v[2]) < 0.8 ? [0, 0, 1] : [1, 0, 0];
  const cross = (a: Readonly<Triple>, b: Readonly<Triple>): Triple => [
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ];
  const one = unit(cross(v, helper));
  return [one, unit(cross(v, one))];
}
