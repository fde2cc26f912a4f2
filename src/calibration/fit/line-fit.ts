import { invertedNormal, type Rows, timesVector, transpose } from './linear-algebra.ts';

/** Plain linear least squares. @returns coefficients of the columns, or null when the rows do not determine them */
export function fitLine(rows: Rows, values: readonly number[]): number[] | null {
  if (rows.length < (rows[0]?.length ?? 1)) return null;
  const columns = transpose(rows);
  const inverse = invertedNormal(columns);
  return inverse && timesVector(inverse, timesVector(columns, values));
}
