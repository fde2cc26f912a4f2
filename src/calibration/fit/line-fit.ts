import { dot, gram, invertSymmetric, type Rows, transpose } from './linear-algebra.ts';

/** Plain linear least squares. @returns coefficients of the columns, or null when the rows do not determine them */
export function fitLine(rows: Rows, values: readonly number[]): number[] | null {
  if (rows.length < (rows[0]?.length ?? 1)) return null;
  const inverse = invertSymmetric(gram(rows));
  if (!inverse) return null;
  const slope = transpose(rows).map((column) => dot(column, values));
  return inverse.map((row) => dot(row, slope));
}
