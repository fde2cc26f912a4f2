/**
 * A baseline: the textbook Kalman filter for this balance, untuned. Four states: milk (g), its rate (g/s), the two mouth forces (N). Rate
 * and forces walk at random; three measurements each 50 ms by the sleeve contract's physics (section 1); no sucks, no teat in or out, no biases.
 */

import { MILK_DENSITY_GRAMS_PER_ML, STANDARD_GRAVITY_MPS2 } from '../../src/base/units.ts';
import type { Calibration } from '../../src/sensing/index.ts';
import { type MilkMoments, milkMoments, tabulateMilkCentre } from '../../src/sensing/loads/milk-centre.ts';
import type { LoadBlock } from './load-blocks.ts';

const STATES = 4;
const [MILK, RATE, PX, PZ] = [0, 1, 2, 3] as const;
/** Round figures; of a few tries the ones that gave the best flow, so that the baseline is not a straw man. */
const WALK = { rateGramsPerSec: 0.02, forceN: 1 };
const NOISE = { forceN: 0.01, momentNm: 0.005 };
const START_SD = [5, 0.1, 0.01, 0.01];

export interface FourStates {
  milkGrams: number[];
  rateGramsPerSec: number[];
}

export function fourStateFilter(blocks: readonly LoadBlock[], calibration: Calibration): FourStates {
  const { bottle } = calibration;
  const table = tabulateMilkCentre(bottle.innerProfileMm);
  const tipM = bottle.teatTipZMm / 1000;
  const emptyKg = bottle.emptyMassGrams / 1000;
  const emptyCentreM = bottle.emptyCentreZMm / 1000;
  const moments: MilkMoments = { zMlM: 0, xMlM: 0 };
  const g = STANDARD_GRAVITY_MPS2;
  const first = blocks[0]!;
  const firstGrams = (1000 * Math.hypot(first.fxN, first.fzN)) / g - bottle.emptyMassGrams;
  const x = [firstGrams, 0, 0, 0];
  const c = START_SD.map((sd, i) => START_SD.map((_, j) => (i === j ? sd * sd : 0)));

  const predict = (stepSec: number): void => {
    x[MILK]! -= x[RATE]! * stepSec;
    for (let j = 0; j < STATES; j++) c[MILK]![j]! -= stepSec * c[RATE]![j]!;
    for (let i = 0; i < STATES; i++) c[i]![MILK]! -= stepSec * c[i]![RATE]!;
    c[RATE]![RATE]! += WALK.rateGramsPerSec ** 2 * stepSec;
    c[PX]![PX]! += WALK.forceN ** 2 * stepSec;
    c[PZ]![PZ]! += WALK.forceN ** 2 * stepSec;
  };
  const correct = (row: number[], error: number, sd: number): void => {
    const seen = c.map((line) => line.reduce((sum, entry, j) => sum + entry * row[j]!, 0));
    const s = row.reduce((sum, entry, i) => sum + entry * seen[i]!, 0) + sd * sd;
    for (let i = 0; i < STATES; i++) {
      x[i]! += (seen[i]! / s) * error;
      for (let j = 0; j < STATES; j++) c[i]![j]! -= (seen[i]! * seen[j]!) / s;
    }
  };

  const out: FourStates = { milkGrams: [], rateGramsPerSec: [] };
  let lastSec = first.atSec - 0.05;
  for (const { atSec, fxN, fzN, momentNm, ax, ay, az } of blocks) {
    predict(Math.min(5, atSec - lastSec));
    lastSec = atSec;
    const kg = (): number => emptyKg + x[MILK]! / 1000;
    correct([(g * ax) / 1000, 0, -1, 0], fxN - (kg() * g * ax - x[PX]!), NOISE.forceN);
    correct([(g * az) / 1000, 0, 0, -1], fzN - (kg() * g * az - x[PZ]!), NOISE.forceN);
    const across = Math.hypot(ax, ay);
    const volumeMl = Math.max(1, x[MILK]! / MILK_DENSITY_GRAMS_PER_ML);
    milkMoments(table, volumeMl, Math.atan2(across, az), moments);
    const centreZ = moments.zMlM / volumeMl;
    const centreX = across > 1e-6 ? ((moments.xMlM / volumeMl) * ax) / across : 0;
    const armM = ax * centreZ - az * centreX;
    const expected = (x[MILK]! / 1000) * g * armM + emptyKg * g * ax * emptyCentreM - x[PX]! * tipM;
    correct([(g * armM) / 1000, 0, -tipM, 0], momentNm - expected, NOISE.momentNm);
    out.milkGrams.push(x[MILK]!);
    out.rateGramsPerSec.push(x[RATE]!);
  }
  return out;
}
