/**
 * Earlier intakes, kept in the filter and corrected together with the state, so that the intake of the last seconds
 * and its variance are known as well as possible.
 */
import { EARLIER_INTAKES, INTAKE, type MilkFilter, STATES } from './milk-filter.ts';

/** Time from one to the next, seconds. */
export const KEEP_INTAKE_EVERY_SEC = 0.4;

/** Stores the present intake; later corrections update it. */
export function keepIntake(filter: MilkFilter, atSec: number): void {
  const n = STATES;
  const k = filter.earlierNext;
  filter.earlierValue[k] = filter.x[INTAKE]!;
  filter.earlierVariance[k] = filter.c[INTAKE * n + INTAKE]!;
  filter.earlierAtSec[k] = atSec;
  for (let j = 0; j < n; j++) filter.earlierC[k * n + j] = filter.c[INTAKE * n + j]!;
  filter.earlierNext = (k + 1) % EARLIER_INTAKES;
  filter.earlierCount = Math.min(EARLIER_INTAKES, filter.earlierCount + 1);
}

/** Change of intake since `sinceSec`, by the present estimate: mean and variance (g, g²) into `out`. If `sinceSec` is before the oldest one, from the oldest. */
export function intakeSince(
  filter: MilkFilter,
  sinceSec: number,
  out: { grams: number; variance: number },
): void {
  const n = STATES;
  let before = -1;
  let after = -1;
  for (let age = filter.earlierCount; age >= 1; age--) {
    const k = (filter.earlierNext - age + EARLIER_INTAKES) % EARLIER_INTAKES;
    if (filter.earlierAtSec[k]! <= sinceSec) before = k;
    else {
      after = k;
      break;
    }
  }
  const now = filter.x[INTAKE]!;
  const k = before >= 0 ? before : after;
  if (k < 0) {
    out.grams = 0;
    out.variance = 0;
    return;
  }
  let value = filter.earlierValue[k]!;
  if (before >= 0 && after >= 0) {
    const span = filter.earlierAtSec[after]! - filter.earlierAtSec[before]!;
    const part = span > 0 ? (sinceSec - filter.earlierAtSec[before]!) / span : 0;
    value += part * (filter.earlierValue[after]! - value);
  }
  out.grams = now - value;
  out.variance = Math.max(
    0,
    filter.c[INTAKE * n + INTAKE]! + filter.earlierVariance[k]! - 2 * filter.earlierC[k * n + INTAKE]!,
  );
}

/** Copies the earlier intakes, oldest first, intake in g. @returns their number */
export function readEarlierIntakes(
  filter: MilkFilter,
  atSec: Float64Array,
  intakeGrams: Float64Array,
): number {
  for (let age = filter.earlierCount; age >= 1; age--) {
    const k = (filter.earlierNext - age + EARLIER_INTAKES) % EARLIER_INTAKES;
    const i = filter.earlierCount - age;
    atSec[i] = filter.earlierAtSec[k]!;
    intakeGrams[i] = filter.earlierValue[k]!;
  }
  return filter.earlierCount;
}
