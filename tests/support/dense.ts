/** Small dense matrices as arrays of rows: simple and slow, for checks that must share no code with the sources. */
export type Dense = number[][];

export const zeros = (rows: number, columns: number): Dense =>
  Array.from({ length: rows }, () => new Array<number>(columns).fill(0));

export const identity = (size: number): Dense =>
  zeros(size, size).map((row, i) => row.map((_, j) => (i === j ? 1 : 0)));

export const transposed = (a: Dense): Dense => a[0]!.map((_, j) => a.map((row) => row[j]!));

export const product = (a: Dense, b: Dense): Dense =>
  a.map((row) => b[0]!.map((_, j) => row.reduce((sum, entry, k) => sum + entry * b[k]![j]!, 0)));

export const sum = (a: Dense, b: Dense): Dense => a.map((row, i) => row.map((entry, j) => entry + b[i]![j]!));

export const column = (entries: readonly number[]): Dense => entries.map((entry) => [entry]);

/** Inverse by Gauss–Jordan with row exchange. */
export function inverted(matrix: Dense): Dense {
  const size = matrix.length;
  const work = matrix.map((row, i) => [...row, ...identity(size)[i]!]);
  for (let col = 0; col < size; col++) {
    let best = col;
    for (let row = col; row < size; row++) {
      if (Math.abs(work[row]![col]!) > Math.abs(work[best]![col]!)) best = row;
    }
    [work[col], work[best]] = [work[best]!, work[col]!];
    const pivot = work[col]![col]!;
    if (pivot === 0) throw new RangeError('The matrix has no inverse.');
    work[col] = work[col]!.map((entry) => entry / pivot);
    for (let row = 0; row < size; row++) {
      const share = work[row]![col]!;
      if (row === col || share === 0) continue;
      work[row] = work[row]!.map((entry, j) => entry - share * work[col]![j]!);
    }
  }
  return work.map((row) => row.slice(size));
}

/** Lower L with L·Lᵀ = matrix; a column with a pivot of (nearly) zero stays zero. */
export function lowerRoot(matrix: Dense): Dense {
  const size = matrix.length;
  const lower = zeros(size, size);
  for (let j = 0; j < size; j++) {
    const pivot = matrix[j]![j]! - lower[j]!.reduce((total, entry) => total + entry * entry, 0);
    if (pivot < 1e-14) continue;
    lower[j]![j] = Math.sqrt(pivot);
    for (let i = j + 1; i < size; i++) {
      const shared = lower[i]!.reduce((total, entry, k) => total + entry * lower[j]![k]!, 0);
      lower[i]![j] = (matrix[i]![j]! - shared) / lower[j]![j]!;
    }
  }
  return lower;
}

/** Smallest pivot of a symmetric matrix without row exchange; positive exactly if the matrix is positive definite. */
export function smallestPivot(matrix: Dense): number {
  const work = matrix.map((row) => [...row]);
  let smallest = Number.POSITIVE_INFINITY;
  for (let k = 0; k < work.length; k++) {
    const pivot = work[k]![k]!;
    smallest = Math.min(smallest, pivot);
    for (let i = k + 1; i < work.length; i++) {
      const share = work[i]![k]! / pivot;
      for (let j = k; j < work.length; j++) work[i]![j] = work[i]![j]! - share * work[k]![j]!;
    }
  }
  return smallest;
}
