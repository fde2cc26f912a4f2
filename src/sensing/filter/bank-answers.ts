/** What the bank is asked: milk and intake as known now, the sucks since the last row counted in. */
import { type MilkBank, pendingOf } from './bank.ts';
import { intakeSince, readEarlierIntakes } from './earlier-intakes.ts';
import { DEVIATION, giving, INTAKE, PER_SUCK } from './milk-filter.ts';

/** Milk of sucks since the last row, g. */
function pendingGrams(bank: MilkBank, member: number): number {
  const units = pendingOf(bank, member);
  if (units === 0) return 0;
  const filter = bank.filters[member]!;
  return units * giving(filter) * Math.max(0, filter.x[PER_SUCK]! + filter.x[DEVIATION]!);
}

export interface Amount {
  grams: number;
  variance: number;
}

const one: Amount = { grams: 0, variance: 0 };

/** Change of intake since `sinceSec` by the present estimate: mean and variance (g, g²) of the weighted mean, into `out`. */
export function bankIntakeSince(bank: MilkBank, sinceSec: number, out: Amount): void {
  let mean = 0;
  let square = 0;
  for (let i = 0; i < bank.filters.length; i++) {
    intakeSince(bank.filters[i]!, sinceSec, one);
    const grams = one.grams + pendingGrams(bank, i);
    mean += bank.weights[i]! * grams;
    square += bank.weights[i]! * (one.variance + grams * grams);
  }
  out.grams = mean;
  out.variance = Math.max(0, square - mean * mean);
}

/** Milk in the bottle and milk taken so far, with the sucks since the last row, g. */
export function bankNow(bank: MilkBank, out: { milkGrams: number; intakeGrams: number }): void {
  out.milkGrams = bank.milkGrams;
  out.intakeGrams = 0;
  for (let i = 0; i < bank.filters.length; i++) {
    const weight = bank.weights[i]!;
    const pending = pendingGrams(bank, i);
    out.milkGrams -= weight * pending;
    out.intakeGrams += weight * (bank.filters[i]!.x[INTAKE]! + pending);
  }
}

/** The weighted mean intakes of the last seconds, oldest first, g. `scratch` has room for all of them. @returns their number */
export function readBankEarlierIntakes(
  bank: MilkBank,
  atSec: Float64Array,
  intakeGrams: Float64Array,
  scratch: Float64Array,
): number {
  let count = 0;
  intakeGrams.fill(0);
  for (let i = 0; i < bank.filters.length; i++) {
    count = readEarlierIntakes(bank.filters[i]!, atSec, scratch);
    for (let k = 0; k < count; k++) intakeGrams[k] = intakeGrams[k]! + bank.weights[i]! * scratch[k]!;
  }
  return count;
}
