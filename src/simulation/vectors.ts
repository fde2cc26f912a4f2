/** Three numbers in a row: cells (axial, front, rear), axes (x, y, z) or loads (Fx, Fz, M). */
export type Triple = [number, number, number];
/** Rows of a 3×3 matrix. */
export type Matrix = [Triple, Triple, Triple];

export const times = (matrix: Matrix, [a, b, c]: Readonly<Triple>): Triple =>
  matrix.map((row) => row[0] * a + row[1] * b + row[2] * c) as Triple;

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
  return rows.map((row) => row.map((entry) => entry / determinant)) as Matrix;
}
