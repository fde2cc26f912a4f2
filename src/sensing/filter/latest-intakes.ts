/** The intakes of the last seconds by the present estimate, for rules that must not depend on corrections made since. */
import type { Sensor } from '../sensor-state.ts';
import { readBankEarlierIntakes } from './bank-answers.ts';
import { EARLIER_INTAKES } from './milk-filter.ts';

/** Oldest first, mL; each later correction changes all of them. */
export interface LatestIntakes {
  count: number;
  readonly atSec: Float64Array;
  readonly intakeMl: Float64Array;
  /** Standard deviation of all that was taken until now, mL. */
  sdMl?: number;
}

export const createLatestIntakes = (): LatestIntakes => ({
  count: 0,
  atSec: new Float64Array(EARLIER_INTAKES),
  intakeMl: new Float64Array(EARLIER_INTAKES),
  sdMl: 0,
});

const scratch = new Float64Array(EARLIER_INTAKES);

/** Fills `into`; nothing is allocated. */
export function readLatestIntakes({ bank, densityGramsPerMl }: Sensor, into: LatestIntakes): void {
  into.sdMl = Math.sqrt(Math.max(0, bank.intakeVariance)) / densityGramsPerMl;
  into.count = readBankEarlierIntakes(bank, into.atSec, into.intakeMl, scratch);
  for (let i = 0; i < into.count; i++) {
    into.intakeMl[i] = Math.max(0, into.intakeMl[i]! / densityGramsPerMl);
  }
}
