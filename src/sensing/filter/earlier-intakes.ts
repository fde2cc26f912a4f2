/**
 * Earlier intakes, kept in the filter and corrected along with everything that follows: what was taken in the last
 * seconds is then known as well as it can be, and how well.
 */
import { CLONES, INTAKE, type MilkFilter, STATES } from './milk-filter.ts';

/** Time from one to the next, seconds. */
export const CLONE_EVERY_SEC = 0.4;

/** Keeps the intake of this moment, to be corrected along with all that follows. */
export function cloneIntake(filter: MilkFilter, atSec: number): void {
  const n = STATES;
  const k = filter.cloneNext;
  filter.cloneValue[k] = filter.x[INTAKE]!;
  filter.cloneVariance[k] = filter.c[INTAKE * n + INTAKE]!;
  filter.cloneAtSec[k] = atSec;
  for (let j = 0; j < n; j++) filter.cloneC[k * n + j] = filter.c[INTAKE * n + j]!;
  filter.cloneNext = (k + 1) % CLONES;
  filter.cloneCount = Math.min(CLONES, filter.cloneCount + 1);
}

/** Change of intake since `sinceSec`, as known now: mean and variance (g, g²) into `out`. Before the oldest clone: from it. */
export function intakeSince(
  filter: MilkFilter,
  sinceSec: number,
  out: { grams: number; variance: number },
): void {
  const n = STATES;
  let before = -1;
  let after = -1;
  for (let age = filter.cloneCount; age >= 1; age--) {
    const k = (filter.cloneNext - age + CLONES) % CLONES;
    if (filter.cloneAtSec[k]! <= sinceSec) before = k;
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
  let value = filter.cloneValue[k]!;
  if (before >= 0 && after >= 0) {
    const span = filter.cloneAtSec[after]! - filter.cloneAtSec[before]!;
    const part = span > 0 ? (sinceSec - filter.cloneAtSec[before]!) / span : 0;
    value += part * (filter.cloneValue[after]! - value);
  }
  out.grams = now - value;
  out.variance = Math.max(
    0,
    filter.c[INTAKE * n + INTAKE]! + filter.cloneVariance[k]! - 2 * filter.cloneC[k * n + INTAKE]!,
  );
}

/** Reads out the clones, oldest first, intake in g. @returns how many there are */
export function readClones(filter: MilkFilter, atSec: Float64Array, intakeGrams: Float64Array): number {
  for (let age = filter.cloneCount; age >= 1; age--) {
    const k = (filter.cloneNext - age + CLONES) % CLONES;
    const i = filter.cloneCount - age;
    atSec[i] = filter.cloneAtSec[k]!;
    intakeGrams[i] = filter.cloneValue[k]!;
  }
  return filter.cloneCount;
}
