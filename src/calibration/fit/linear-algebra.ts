/**
 * The linear algebra of a calibration, on small dense matrices as rows of numbers, which can be written to a file
 * directly. Decompositions are those of ml-matrix.
 */
import { CholeskyDecomposition, determinant, inverse, Matrix, SingularValueDecomposition } from 'ml-matrix';

/** Rows of numbers. */
export type Rows = number[][];

/** A pivot this small relative to its diagonal entry is only rounding error. */
const ROUNDING = 1e-14;

export const zeros = (rows: number, columns: number): Rows => Matrix.zeros(rows, columns).to2DArray();
export const transpose = (a: Rows): Rows => new Matrix(a).transpose().to2DArray();
export const timesMatrix = (a: Rows, b: Rows): Rows => new Matrix(a).mmul(new Matrix(b)).to2DArray();

export const dot = (a: readonly number[], b: readonly number[]): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
};

export const timesVector = (a: Rows, x: readonly number[]): number[] => a.map((row) => dot(row, x));

/** Lower triangle L with L·Lᵀ = a. @returns null when `a` is not positive definite */
export const cholesky = (a: Rows): Rows | null =>
  decomposed(new Matrix(a))?.lowerTriangularMatrix.to2DArray() ?? null;

function decomposed(a: Matrix): CholeskyDecomposition | null {
  const found = new CholeskyDecomposition(symmetric(a));
  const pivots = found.lowerTriangularMatrix.diagonal();
  const isDefinite = pivots.every((pivot, i) => pivot ** 2 > ROUNDING * Math.abs(a.get(i, i)));
  return found.isPositiveDefinite() && isDefinite ? found : null;
}

/** Removes the asymmetry caused by rounding. */
const symmetric = (a: Matrix): Matrix => Matrix.add(a, a.transpose()).div(2);

/** Solves L·x = b for a lower triangle L. */
export function forwardSolve(lower: Rows, b: readonly number[]): number[] {
  const x: number[] = [];
  for (let i = 0; i < b.length; i++) {
    let left = b[i]!;
    for (let k = 0; k < i; k++) left -= lower[i]![k]! * x[k]!;
    x.push(left / lower[i]![i]!);
  }
  return x;
}

/** Inverse of the normal matrix, (Aᵀ·A)⁻¹. @returns null when the table does not determine it */
export function invertedNormal(columns: Rows): Rows | null {
  const transposed = new Matrix(columns);
  const normal = transposed.mmul(transposed.transpose());
  const inverted = decomposed(normal)?.solve(Matrix.eye(normal.rows));
  return inverted ? symmetric(inverted).to2DArray() : null;
}

/** @throws RangeError when the matrix is singular */
export function inverseOf(a: Rows): Rows {
  if (!(Math.abs(determinantOf(a)) > 0)) throw new RangeError('The matrix cannot be inverted.');
  return inverse(new Matrix(a)).to2DArray();
}

export const determinantOf = (a: Rows): number => determinant(new Matrix(a));

export interface SingularParts {
  /** In falling order. */
  values: number[];
  /** Right singular vectors, one per row, in the order of `values`. */
  directions: Rows;
}

export function singularParts(a: Rows): SingularParts {
  const { diagonal, rightSingularVectors } = new SingularValueDecomposition(new Matrix(a), {
    autoTranspose: true,
  });
  return { values: diagonal, directions: rightSingularVectors.transpose().to2DArray() };
}
