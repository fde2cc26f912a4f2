/** The little linear algebra that a calibration needs: small dense matrices as rows of numbers. */

/** Rows of numbers. */
export type Rows = number[][];

export const zeros = (rows: number, columns: number): Rows =>
  Array.from({ length: rows }, () => new Array<number>(columns).fill(0));

export const identity = (size: number): Rows =>
  zeros(size, size).map((row, i) => row.map((_, j) => (i === j ? 1 : 0)));

export const transpose = (a: Rows): Rows => a[0]!.map((_, j) => a.map((row) => row[j]!));

export const dot = (a: readonly number[], b: readonly number[]): number => {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!;
  return sum;
};

export const timesVector = (a: Rows, x: readonly number[]): number[] => a.map((row) => dot(row, x));

export function timesMatrix(a: Rows, b: Rows): Rows {
  const columns = transpose(b);
  return a.map((row) => columns.map((column) => dot(row, column)));
}

/** Aᵀ·A. */
export function gram(a: Rows): Rows {
  const size = a[0]!.length;
  const out = zeros(size, size);
  for (const row of a) {
    for (let i = 0; i < size; i++) {
      const left = row[i]!;
      if (left === 0) continue;
      for (let j = 0; j <= i; j++) out[i]![j]! += left * row[j]!;
    }
  }
  for (let i = 0; i < size; i++) for (let j = 0; j < i; j++) out[j]![i] = out[i]![j]!;
  return out;
}

/** Lower triangle L with L·Lᵀ = a. @returns null when `a` is not positive definite */
export function cholesky(a: Rows): Rows | null {
  const size = a.length;
  const lower = zeros(size, size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let left = a[i]![j]!;
      for (let k = 0; k < j; k++) left -= lower[i]![k]! * lower[j]![k]!;
      if (i === j) {
        if (!(left > 1e-14 * Math.abs(a[i]![i]!))) return null;
        lower[i]![i] = Math.sqrt(left);
      } else lower[i]![j] = left / lower[j]![j]!;
    }
  }
  return lower;
}

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

/** Inverse of a symmetric positive definite matrix. @returns null when it is not */
export function invertSymmetric(a: Rows): Rows | null {
  const lower = cholesky(a);
  if (!lower) return null;
  const columns = identity(a.length).map((unit) => forwardSolve(lower, unit));
  // columns[i] = L⁻¹·e_i, so the inverse L⁻ᵀ·L⁻¹ has the entries columns[i]·columns[j].
  return columns.map((left) => columns.map((right) => dot(left, right)));
}

/** Determinant and inverse of a 3×3 matrix. @throws RangeError when it is singular */
export function inverse3(m: Rows): Rows {
  const [[a, b, c], [d, e, f], [g, h, i]] = m as [number[], number[], number[]] as [
    [number, number, number],
    [number, number, number],
    [number, number, number],
  ];
  const determinant = determinant3(m);
  if (!(Math.abs(determinant) > 0)) throw new RangeError('The 3×3 matrix cannot be inverted.');
  return [
    [e * i - f * h, c * h - b * i, b * f - c * e],
    [f * g - d * i, a * i - c * g, c * d - a * f],
    [d * h - e * g, b * g - a * h, a * e - b * d],
  ].map((row) => row.map((entry) => entry / determinant));
}

export function determinant3(m: Rows): number {
  const [[a, b, c], [d, e, f], [g, h, i]] = m as [number[], number[], number[]];
  return a! * (e! * i! - f! * h!) - b! * (d! * i! - f! * g!) + c! * (d! * h! - e! * g!);
}

export interface SingularParts {
  /** Falling. */
  values: number[];
  /** Right singular vectors, one per row, in the order of `values`. */
  directions: Rows;
}

/**
 * Singular values and right singular vectors by one-sided Jacobi rotations (Hestenes 1958; Golub & Van Loan,
 * Matrix Computations, section on Jacobi methods): slow for large matrices, exact and short for small ones.
 */
export function singularParts(a: Rows): SingularParts {
  const columns = transpose(a);
  const turned = identity(columns.length);
  for (let sweep = 0, rotated = true; rotated && sweep < 60; sweep++) {
    rotated = false;
    for (let p = 0; p < columns.length - 1; p++) {
      for (let q = p + 1; q < columns.length; q++) {
        const pp = dot(columns[p]!, columns[p]!);
        const qq = dot(columns[q]!, columns[q]!);
        const pq = dot(columns[p]!, columns[q]!);
        if (Math.abs(pq) <= 1e-15 * Math.sqrt(pp * qq) || pq === 0) continue;
        rotated = true;
        const tau = (qq - pp) / (2 * pq);
        const tan = (tau >= 0 ? 1 : -1) / (Math.abs(tau) + Math.sqrt(1 + tau * tau));
        const cos = 1 / Math.sqrt(1 + tan * tan);
        rotate(columns[p]!, columns[q]!, cos, cos * tan);
        rotate(turned[p]!, turned[q]!, cos, cos * tan);
      }
    }
  }
  const sized = columns.map((column, i) => ({
    value: Math.sqrt(dot(column, column)),
    direction: turned[i]!,
  }));
  sized.sort((one, other) => other.value - one.value);
  return { values: sized.map(({ value }) => value), directions: sized.map(({ direction }) => direction) };
}

function rotate(p: number[], q: number[], cos: number, sin: number): void {
  for (let i = 0; i < p.length; i++) {
    const left = p[i]!;
    p[i] = cos * left - sin * q[i]!;
    q[i] = sin * left + cos * q[i]!;
  }
}
