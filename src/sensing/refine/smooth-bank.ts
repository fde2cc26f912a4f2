/** The refined pass over the whole bank: each filter smoothed, then averaged with weights from the evidence before and after. */
import type { MilkBank } from '../filter/bank.ts';
import { createHistory } from '../filter/history.ts';
import { type Smoothed, smooth } from './smoother.ts';
import { GRID_STEPS, windowOf } from './window-spread.ts';

/** Weights lag by a minute, so they are read this many steps of 0.2 s ahead. */
const HALF_WINDOW_STEPS = 150;

export function smoothBank(bank: MilkBank): Smoothed {
  const members = bank.histories.map((history) => smooth(history));
  const [first] = members;
  if (!first || members.length === 1) return first ?? smooth(createHistory());
  const { length } = first.milkGrams;
  const count = members.length;
  const blended: Smoothed = {
    milkGrams: new Float64Array(length),
    intakeGrams: new Float64Array(length),
    milkSdGrams: new Float64Array(length),
    intakeSdGrams: new Float64Array(length),
    tenSecSdGrams: new Float64Array(first.tenSecSdGrams.length),
  };
  // Live weights lag by a minute; half a minute later they describe the present.
  const weightsAt = (k: number): number => Math.min(length - 1, k + HALF_WINDOW_STEPS) * count;
  const places = blended.tenSecSdGrams.length;
  for (let place = 0; place < places; place++) {
    const [from, to] = windowOf(place, places);
    const at = weightsAt(place * GRID_STEPS);
    const taken = members.map(({ intakeGrams }) => intakeGrams[to]! - intakeGrams[from]!);
    const mean = taken.reduce((sum, grams, i) => sum + bank.weightLog[at + i]! * grams, 0);
    // The disagreement of the filters adds to the uncertainty.
    const variance = members.reduce(
      (sum, { tenSecSdGrams }, i) =>
        sum + bank.weightLog[at + i]! * (tenSecSdGrams[place]! ** 2 + (taken[i]! - mean) ** 2),
      0,
    );
    blended.tenSecSdGrams[place] = Math.sqrt(variance);
  }
  for (let k = 0; k < length; k++) {
    const at = weightsAt(k);
    for (const key of ['milkGrams', 'intakeGrams', 'milkSdGrams', 'intakeSdGrams'] as const) {
      let sum = 0;
      for (let i = 0; i < count; i++) sum += bank.weightLog[at + i]! * members[i]![key][k]!;
      blended[key][k] = sum;
    }
  }
  return blended;
}
