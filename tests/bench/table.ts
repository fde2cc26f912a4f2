/** Plain tables on standard output, and the few statistics they need. */
export type Cell = string | number;

export function printTable(title: string, columns: string[], rows: Cell[][], notes: string[] = []): void {
  const texts = [columns, ...rows.map((row) => row.map(String))];
  const widths = columns.map((_, i) => Math.max(...texts.map((row) => (row[i] ?? '').length)));
  const line = (row: string[]): string =>
    `  ${row.map((text, i) => (i === 0 ? text.padEnd(widths[i]!) : text.padStart(widths[i]!))).join('  ')}`.trimEnd();
  console.log(`\n${title}`);
  console.log(line(columns));
  console.log(`  ${widths.map((width) => '-'.repeat(width)).join('  ')}`);
  for (const row of texts.slice(1)) console.log(line(row));
  for (const note of notes) console.log(`  ${note}`);
}

export const fixed = (value: number | null, digits = 2): string =>
  value === null || !Number.isFinite(value) ? '–' : value.toFixed(digits);

export const percent = (share: number, digits = 1): string => `${(100 * share).toFixed(digits)} %`;

/** The value below which this share of the list is, nearest rank. */
export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.max(0, Math.ceil(share * sorted.length) - 1))] ?? Number.NaN;
}

export const median = (values: readonly number[]): number => quantile(values, 0.5);

export const rootMeanSquare = (values: readonly number[]): number =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

/** "12.3 (11.9–13.0)": median and range. */
export const spread = (values: readonly number[], digits = 1): string =>
  `${fixed(median(values), digits)} (${fixed(Math.min(...values), digits)}–${fixed(Math.max(...values), digits)})`;
