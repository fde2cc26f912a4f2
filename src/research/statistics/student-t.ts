/** Two-sided 95 % quantiles of Student's t: printed tables of the distribution, with their own rule between the lines. Pure. */

const UP_TO_30 = [
  12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228, 2.201, 2.179, 2.16, 2.145, 2.131,
  2.12, 2.11, 2.101, 2.093, 2.086, 2.08, 2.074, 2.069, 2.064, 2.06, 2.056, 2.052, 2.048, 2.045, 2.042,
];
const TABLE: readonly (readonly [degrees: number, t: number])[] = [
  ...UP_TO_30.map((t, i) => [i + 1, t] as const),
  [40, 2.021],
  [60, 2],
  [120, 1.98],
  [Number.POSITIVE_INFINITY, 1.96],
];

/** @param degrees of freedom, 1 and more, whole or not: between the lines of the table straight over their reciprocal */
export function studentT95(degrees: number): number {
  const above = TABLE.findIndex(([of]) => of >= degrees);
  const [high, tHigh] = TABLE[above]!;
  if (above === 0 || high === degrees) return tHigh;
  const [low, tLow] = TABLE[above - 1]!;
  const part = (1 / low - 1 / degrees) / (1 / low - 1 / high);
  return tLow + part * (tHigh - tLow);
}
