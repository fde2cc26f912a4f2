/** The intake of the last seconds as known now, for those who must not act on what was corrected since. */
import type { Sensor } from '../sensor-state.ts';
import { readBankEarlierIntakes } from './bank-answers.ts';
import { EARLIER_INTAKES } from './milk-filter.ts';

/** Oldest first, mL; every later correction moves all of it. */
export interface LatestIntakes {
  count: number;
  readonly atSec: Float64Array;
  readonly intakeMl: Float64Array;
}

export const createLatestIntakes = (): LatestIntakes => ({
  count: 0,
  atSec: new Float64Array(EARLIER_INTAKES),
  intakeMl: new Float64Array(EARLIER_INTAKES),
});

const scratch = new Float64Array(EARLIER_INTAKES);

/** Fills `into`; nothing is allocated. */
export function readLatestIntakes({ bank, densityGramsPerMl }: Sensor, into: LatestIntakes): void {
  into.count = readBankEarlierIntakes(bank, into.atSec, into.intakeMl, scratch);
  for (let i = 0; i < into.count; i++) {
    into.intakeMl[i] = Math.max(0, into.intakeMl[i]! / densityGramsPerMl);
  }
}
