/** The intake of the last seconds as known now, for those who must not act on what was corrected since. */

import type { Sensor } from '../sensor-state.ts';
import { readBankClones } from './bank.ts';
import { CLONES } from './milk-filter.ts';

/** Oldest first, mL; every later correction moves all of it. */
export interface Trail {
  count: number;
  readonly atSec: Float64Array;
  readonly intakeMl: Float64Array;
}

export const createTrail = (): Trail => ({
  count: 0,
  atSec: new Float64Array(CLONES),
  intakeMl: new Float64Array(CLONES),
});

const scratch = new Float64Array(CLONES);

/** Fills `trail`; nothing is allocated. */
export function readTrail({ bank, densityGramsPerMl }: Sensor, trail: Trail): void {
  trail.count = readBankClones(bank, trail.atSec, trail.intakeMl, scratch);
  for (let i = 0; i < trail.count; i++) {
    trail.intakeMl[i] = Math.max(0, trail.intakeMl[i]! / densityGramsPerMl);
  }
}
