import { inverse, Matrix, SingularValueDecomposition, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { fitLeastSquares, whitener } from '../../src/calibration/fit/least-squares.ts';
import { fitLine } from '../../src/calibration/fit/line-fit.ts';
import {
  dot,
  inverse3,
  invertSymmetric,
  singularParts,
  timesVector,
  transpose,
} from '../../src/calibration/fit/linear-algebra.ts';
import { seededRandom } from '../support/random.ts';

/** Reference library: ml-matrix. */
const drawn = (rows: number, columns: number, seed: number): number[][] => {
  const random = seededRandom(seed);
  return Array.from({ length: rows }, () => Array.from({ length: columns }, () => 2 * random() - 1));
};

const close = (found: readonly number[], wanted: readonly number[], digits = 9): void => {
  expect(found).toHaveLength(wanted.length);
  found.forEach((entry, i) => {
    expect(entry).toBeCloseTo(wanted[i]!, digits);
  });
};

describe('against a reference library', () => {
  it('finds the same singular values and weakest direction', () => {
    const table = drawn(20, 6, 4);
    const ours = singularParts(table);
    const theirs = new SingularValueDecomposition(new Matrix(table));
    close(ours.values, theirs.diagonal);
    const weakest = theirs.rightSingularVectors.getColumn(5);
    expect(Math.abs(dot(ours.directions[5]!, weakest))).toBeCloseTo(1, 9);
  });

  it('inverts alike', () => {
    const square = drawn(3, 3, 5);
    close(inverse3(square).flat(), inverse(new Matrix(square)).to1DArray());
    const table = drawn(12, 5, 6);
    const gram = new Matrix(table).transpose().mmul(new Matrix(table)).to2DArray();
    close(invertSymmetric(gram)!.flat(), inverse(new Matrix(gram)).to1DArray(), 6);
  });

  it('solves the same linear least squares, plain and as a residual function', () => {
    const table = drawn(30, 4, 7);
    const values = drawn(30, 1, 8).map(([value]) => value!);
    const theirs = solve(new Matrix(table), Matrix.columnVector(values), true).to1DArray();
    close(fitLine(table, values)!, theirs);
    const fit = fitLeastSquares(
      (u) => timesVector(table, u).map((entry, i) => values[i]! - entry),
      [0, 0, 0, 0],
      [1, 1, 1, 1],
    )!;
    close(fit.unknowns, theirs, 8);
    const covariance = inverse(new Matrix(table).transpose().mmul(new Matrix(table)));
    close(fit.covariance.flat(), covariance.to1DArray(), 7);
  });

  it('solves generalized least squares with correlated errors', () => {
    const table = drawn(10, 2, 9);
    const values = drawn(10, 1, 10).map(([value]) => value!);
    const walk = table.map((_, i) => table.map((__, j) => Math.min(i, j) + 1 + (i === j ? 0.5 : 0)));
    const weight = inverse(new Matrix(walk));
    const a = new Matrix(table);
    const theirs = inverse(a.transpose().mmul(weight).mmul(a)).mmul(
      a.transpose().mmul(weight).mmul(Matrix.columnVector(values)),
    );
    const whiten = whitener(walk);
    const fit = fitLeastSquares(
      (u) => whiten(timesVector(table, u).map((entry, i) => values[i]! - entry)),
      [0, 0],
      [1, 1],
    )!;
    close(fit.unknowns, theirs.to1DArray(), 8);
  });
});

describe('what cannot be determined', () => {
  it('gives null, not numbers', () => {
    expect(
      fitLine(
        [
          [1, 2],
          [2, 4],
          [3, 6],
        ],
        [1, 2, 3],
      ),
    ).toBeNull();
    expect(fitLine([[1, 2]], [1])).toBeNull();
    expect(
      invertSymmetric([
        [1, 1],
        [1, 1],
      ]),
    ).toBeNull();
    expect(fitLeastSquares((u) => [u[0]! + u[1]!, 2 * (u[0]! + u[1]!)], [0, 0], [1, 1])).toBeNull();
    expect(
      singularParts(
        transpose([
          [1, 2, 3],
          [2, 4, 6],
        ]),
      ).values[1],
    ).toBeCloseTo(0, 12);
  });
});
