/** Small words for the budgets' Markdown tables. Pure. */
import { BOTTLE } from '../design.ts';
import { type Carried, carried } from './holds.ts';
import { cupLoad } from './mass.ts';

export type Row = readonly (string | number)[];

export const table = (head: Row, rows: readonly Row[]): string =>
  [head, head.map(() => '---'), ...rows].map((row) => `| ${row.join(' | ')} |`).join('\n');

/** Fixed decimals; a rounded −0 reads 0. */
export const num = (value: number, digits = 1): string => {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? (0).toFixed(digits) : text;
};

export const loads = (): { full: Carried; half: Carried } => ({
  full: carried(cupLoad(), BOTTLE.fullMl),
  half: carried(cupLoad(), BOTTLE.fullMl / 2),
});
