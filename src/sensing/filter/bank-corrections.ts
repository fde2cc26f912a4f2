/** Corrections of all filters of the bank: by a row of the balance, and by weighing the free bottle. */

import { BANK } from '../noise.ts';
import type { MilkBank } from './bank.ts';
import { recordCorrection } from './history.ts';
import { correctMilk } from './milk-correction.ts';
import {
  BESIDE_MM,
  BIAS,
  BIAS_X,
  BIAS_Z,
  COUPLE,
  LAG_SHARE,
  LINE_MM,
  MILK,
  STATES,
  TILT_BIAS,
} from './milk-filter.ts';

/** A row of the balance: its mean reading and how that depends on the states. */
export interface BalanceRow {
  /** Mean reading, and the reading that `milkGrams` of milk would give, g at arm 1. */
  reading: number;
  expected: number;
  milkGrams: number;
  /** Derivatives of the reading: per g of milk, per mm of the mouth's line along and beside the axis, per g of felt acceleration across, per unit of lag share. */
  perGram: number;
  perLineMm: number;
  perBesideMm: number;
  perFeltX: number;
  perLagShare: number;
  variance: number;
}

const h = new Float64Array(STATES);

const expectedOf = (x: Float64Array, row: BalanceRow): number =>
  row.expected +
  row.perGram * (x[MILK]! - row.milkGrams) +
  x[COUPLE]! +
  row.perLineMm * x[LINE_MM]! +
  row.perBesideMm * x[BESIDE_MM]! +
  x[BIAS]! +
  row.perFeltX * x[TILT_BIAS]! +
  row.perLagShare * x[LAG_SHARE]!;

/** Corrects every filter by a row of the balance. @param judgeSec for how long the row counts in the weights of the filters; 0: not at all */
export function correctBankByBalance(bank: MilkBank, row: BalanceRow, judgeSec: number): void {
  h.fill(0);
  h[MILK] = row.perGram;
  h[COUPLE] = 1;
  h[LINE_MM] = row.perLineMm;
  h[BESIDE_MM] = row.perBesideMm;
  h[BIAS] = 1;
  h[TILT_BIAS] = row.perFeltX;
  h[LAG_SHARE] = row.perLagShare;
  const keep = Math.exp(-judgeSec / BANK.evidenceSec);
  for (let i = 0; i < bank.filters.length; i++) {
    const filter = bank.filters[i]!;
    correctMilk(filter, h, row.reading - expectedOf(filter.x, row), row.variance);
    if (bank.histories.length > 0) recordCorrection(bank.histories[i]!, filter, h);
    if (judgeSec > 0) bank.evidence[i] = bank.evidence[i]! * keep + filter.logLikelihood;
  }
}

/** Corrects every filter by a weighing along one axis, with the teat out. @param perGram felt acceleration of the milk, g; @param grams measured mass less the empty bottle */
export function correctBankByWeighing(
  bank: MilkBank,
  axis: 'across' | 'along',
  grams: number,
  perGram: number,
  variance: number,
): void {
  const bias = axis === 'across' ? BIAS_X : BIAS_Z;
  h.fill(0);
  h[MILK] = perGram;
  h[bias] = 1;
  for (let i = 0; i < bank.filters.length; i++) {
    const filter = bank.filters[i]!;
    correctMilk(filter, h, grams - perGram * filter.x[MILK]! - filter.x[bias]!, variance);
    if (bank.histories.length > 0) recordCorrection(bank.histories[i]!, filter, h);
  }
}
