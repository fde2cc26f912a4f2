import { inverse, Matrix, solve } from 'ml-matrix';
import { describe, expect, it } from 'vitest';
import { fitLeastSquares, whitener } from '../../src/calibration/fit/least-squares.ts';
import { fitLine } from '../../src/calibration/fit/line-fit.ts';
import {
  cholesky,
  dot,
  inverseOf,
  invertedNormal,
  singularParts,
  timesVector,
  transpose,
} from '../../src/calibration/fit/linear-algebra.ts';
import { seededRandom } from '../support/random.ts';

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

describe('against closed forms and another way to solve', () => {
  it('finds singular values that fall, and directions that are stretched by them', () => {
    const table = drawn(20, 6, 4);
    const { values, directions } = singularParts(table);
    expect([...values].sort((a, b) => b - a)).toEqual(values);
    directions.forEach((direction, i) => {
      const stretched = timesVector(table, direction);
      expect(Math.sqrt(dot(stretched, stretched))).toBeCloseTo(values[i]!, 10);
      const along = directions.map((other) => dot(direction, other));
      close(
        along,
        along.map((_, j) => (i === j ? 1 : 0)),
        10,
      );
    });
  });

  it('inverts a matrix whose inverse is known in whole numbers', () => {
    // Hilbert's matrix of 4, and its inverse by the closed form (binomials; Choi 1983, Amer. Math. Monthly 90; from memory).
    const hilbert = [0, 1, 2, 3].map((i) => [0, 1, 2, 3].map((j) => 1 / (i + j + 1)));
    const known = [
      [16, -120, 240, -140],
      [-120, 1200, -2700, 1680],
      [240, -2700, 6480, -4200],
      [-140, 1680, -4200, 2800],
    ];
    close(inverseOf(hilbert).flat(), known.flat(), 6);
    // The columns of a table whose normal matrix it is: L·Lᵀ.
    close(invertedNormal(cholesky(hilbert)!)!.flat(), known.flat(), 5);
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
      invertedNormal([
        [1, 1],
        [1, 1],
      ]),
    ).toBeNull();
    expect(
      cholesky([
        [1, 2],
        [2, 1],
      ]),
    ).toBeNull();
    expect(() =>
      inverseOf([
        [1, 1],
        [1, 1],
      ]),
    ).toThrow(RangeError);
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
