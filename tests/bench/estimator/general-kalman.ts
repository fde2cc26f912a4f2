/**
 * A baseline: the textbook constant-rate model (milk, its rate) in a general Kalman library (npm kalman-filter 2.3), which sees milk by
 * the moment about the nipple's tip, or by weight while the bottle stands upright. On means of a quarter of a second, so that it ends in time.
 */
import { createRequire } from 'node:module';
import {
  gramsFromNewtons,
  MILK_DENSITY_GRAMS_PER_ML,
  STANDARD_GRAVITY_MPS2,
} from '../../../src/base/units.ts';
import type { Calibration } from '../../../src/sensing/index.ts';
import { type MilkMoments, milkMoments, tabulateMilkCentre } from '../../../src/sensing/loads/milk-centre.ts';
import { type Estimate, fromMilk, milkMlPerMin } from '../baselines.ts';
import type { LoadBlock } from '../load-blocks.ts';

// Its CommonJS names are not found by an ES import outside a bundle.
const { KalmanFilter } = createRequire(import.meta.url)('kalman-filter') as typeof import('kalman-filter');

const EACH = 5;
const STEP_SEC = 0.05 * EACH;
/** Below this share of the lever the moment tells little of the milk. */
const LEAST_ARM = 0.3;
/** Round figures; of a few tries those with the best flow. */
const RATE_WALK_GRAMS_PER_SEC = 0.03;
const SEEN_SD_GRAMS = 1;

export function generalKalman(blocks: readonly LoadBlock[], { bottle }: Calibration): Estimate {
  const table = tabulateMilkCentre(bottle.innerProfileMm);
  const moments: MilkMoments = { zMlM: 0, xMlM: 0 };
  const tipM = bottle.teatTipZMm / 1000;
  const q = RATE_WALK_GRAMS_PER_SEC ** 2;
  const first = blocks[0]!;
  const filter = new KalmanFilter({
    dynamic: {
      dimension: 2,
      transition: [
        [1, -STEP_SEC],
        [0, 1],
      ],
      covariance: [
        [(q * STEP_SEC ** 3) / 3, (-q * STEP_SEC ** 2) / 2],
        [(-q * STEP_SEC ** 2) / 2, q * STEP_SEC],
      ],
      init: {
        mean: [[gramsFromNewtons(Math.hypot(first.fxN, first.fzN)) - bottle.emptyMassGrams], [0]],
        covariance: [
          [25, 0],
          [0, 0.01],
        ],
        index: -1,
      },
    },
    observation: { dimension: 1, stateProjection: [[1, 0]], covariance: [[SEEN_SD_GRAMS ** 2]] },
  });

  /** Grams of milk that these loads tell of, if they do. */
  const seenGrams = (block: LoadBlock, milkGrams: number): number | null => {
    const { fxN, fzN, momentNm, ax, ay, az } = block;
    const across = Math.hypot(ax, ay);
    const volumeMl = Math.max(1, milkGrams / MILK_DENSITY_GRAMS_PER_ML);
    milkMoments(table, volumeMl, Math.atan2(across, az), moments);
    const centreZ = moments.zMlM / volumeMl;
    const centreX = across > 1e-6 ? ((moments.xMlM / volumeMl) * ax) / across : 0;
    const arm = (ax * (tipM - centreZ) + az * centreX) / 0.1;
    if (Math.abs(arm) >= LEAST_ARM) {
      const emptyGramsM = bottle.emptyMassGrams * ax * (tipM - bottle.emptyCentreZMm / 1000);
      const milkGramsM = (-1000 * (momentNm - tipM * fxN)) / STANDARD_GRAVITY_MPS2 - emptyGramsM;
      return milkGramsM / 0.1 / arm;
    }
    const upright = az > 0.9;
    return upright ? gramsFromNewtons(Math.hypot(fxN, fzN)) - bottle.emptyMassGrams : null;
  };

  let known: ReturnType<typeof filter.predict> | undefined;
  const milkMl: number[] = [];
  const flow: number[] = [];
  let milkGrams = gramsFromNewtons(Math.hypot(first.fxN, first.fzN)) - bottle.emptyMassGrams;
  let rate = 0;
  for (let at = 0; at < blocks.length; at += EACH) {
    const part = blocks.slice(at, at + EACH);
    const seen = part.map((block) => seenGrams(block, milkGrams)).filter((grams) => grams !== null);
    known = filter.predict({ previousCorrected: known });
    if (seen.length > 0) {
      const mean = seen.reduce((sum, grams) => sum + grams, 0) / seen.length;
      known = filter.correct({ predicted: known, observation: [mean] });
    }
    milkGrams = known.mean[0]![0]!;
    rate = known.mean[1]![0]!;
    for (const _ of part) {
      milkMl.push(milkGrams / MILK_DENSITY_GRAMS_PER_ML);
      flow.push(Math.max(0, milkMlPerMin(rate)));
    }
  }
  return {
    ...fromMilk(
      blocks.map(({ atSec }) => atSec),
      milkMl,
    ),
    flowMlPerMin: flow,
    // Afterwards, the rate known five seconds later: it lags by about as much.
    centredFlowMlPerMin: flow.map((_, i) => flow[Math.min(flow.length - 1, i + 100)]!),
  };
}
