/**
 * What a feed teaches about the bottle: at rest, with more and with less milk, the moment shows where the ends of the inner profile are. The zeros,
 * which drift, are unknowns of the same fit, so that their drift is not read as another bottle.
 */

import { MILK_DENSITY_GRAMS_PER_ML } from '../../base/units.ts';
import type { Calibration } from '../../sensing/loads/calibration.ts';
import type { Hold } from '../walk/hold.ts';
import { changedProfile } from '../walk/profile.ts';
import type { BottleCorrection } from './corrections.ts';
import { fitLeastSquares } from './least-squares.ts';
import { bottleMisfit, inPlaneShare, type StillLoads, stillLoads, weightGrams } from './still-loads.ts';

/** Estimated shift of the profile's ends from the calibration and all feeds since, mm, with covariance. */
export interface BottleBelief {
  baseMm: number;
  neckMm: number;
  /** Variances of base and neck end and their covariance, mm². */
  baseVariance: number;
  neckVariance: number;
  covariance: number;
}

export interface Lesson {
  belief: BottleBelief;
  /** Correction to apply from now on; null when nothing is certain enough. It is already subtracted from the belief. */
  change: BottleCorrection['change'] | null;
}

/** Holds closer than this in milk (g) and tilt are treated as the same. */
const ALIKE_GRAMS = 5;
const ALIKE_RAD = (8 * Math.PI) / 180;
const LEAST_STATES = 3;
const LEAST_SPAN_GRAMS = 25;
/** Standard deviation of other errors of one hold, g: tilt, matrix (own assumption, no source). */
const STATE_SD_GRAMS = 0.5;
const ZERO_SD_GRAMS = 3;
/** Where the file states no uncertainty of its ends, mm (a good drawn outline; own assumption, no source). */
const END_SD_MM = 0.5;
/** Errors common to all feeds, such as that of the tilt, do not average out: this variance is added with each feed, mm (own assumption). */
const DOUBT_A_FEED_MM = 0.1;
/** Errors of matrix and tilt are the same in all feeds and look like a moved end, mm (1 sd; so large in `npm run bench calibration`). */
const COMMON_SD_MM = 0.45;
/** A correction needs this many standard deviations, and is limited in size. */
const SURE_SIGMAS = 2;
const MOST_AT_ONCE_MM = 0.5;

/** The belief before any feed: the file's expanded uncertainties (k = 2). */
export function beliefOf(calibration: Calibration): BottleBelief {
  const stated = (calibration as { uncertainty?: { baseEndMm?: unknown; neckEndMm?: unknown } }).uncertainty;
  const sd = (value: unknown): number => (typeof value === 'number' && value > 0 ? value / 2 : END_SD_MM);
  return {
    baseMm: 0,
    neckMm: 0,
    baseVariance: sd(stated?.baseEndMm) ** 2,
    neckVariance: sd(stated?.neckEndMm) ** 2,
    covariance: 0,
  };
}

/**
 * @param calibration as used now, earlier corrections included
 * @param holds at rest with the bottle in, nipple out of the mouth
 * @returns null when the holds are too few or too similar to learn from
 */
export function learnFromHolds(
  calibration: Calibration,
  holds: readonly Hold[],
  before: BottleBelief = beliefOf(calibration),
  densityGramsPerMl = MILK_DENSITY_GRAMS_PER_ML,
): Lesson | null {
  const states = apart(
    holds.map((hold) => stillLoads(calibration, hold)).filter((one) => inPlaneShare(one) > 0.8),
  );
  const weights = states.map(weightGrams);
  if (states.length < LEAST_STATES || Math.max(...weights) - Math.min(...weights) < LEAST_SPAN_GRAMS)
    return null;
  const { bottle } = calibration;
  const baseVariance = before.baseVariance + DOUBT_A_FEED_MM ** 2;
  const slope = before.covariance / baseVariance;
  const neckRest = before.neckVariance + DOUBT_A_FEED_MM ** 2 - slope * before.covariance;
  const residuals = ([x, z, m, base, neck]: readonly number[]): number[] => {
    const profile = changedProfile(bottle.innerProfileMm, {
      baseShiftMm: base!,
      neckShiftMm: neck!,
      widerShare: 0,
    });
    const baseOff = base! - before.baseMm;
    return [
      ...states.flatMap((loads) => {
        const righted = { ...loads, fx: loads.fx - x!, fz: loads.fz - z!, moment: loads.moment - m! };
        const { acrossGrams, turningGrams } = bottleMisfit(righted, bottle, densityGramsPerMl, profile);
        return [acrossGrams / STATE_SD_GRAMS, turningGrams / STATE_SD_GRAMS];
      }),
      ...[x!, z!, m!].map((zero) => zero / ZERO_SD_GRAMS),
      baseOff / Math.sqrt(baseVariance),
      (neck! - before.neckMm - slope * baseOff) / Math.sqrt(neckRest),
    ];
  };
  const fit = fitLeastSquares(residuals, [0, 0, 0, before.baseMm, before.neckMm], [1, 1, 1, 0.3, 0.3]);
  if (!fit?.converged) return null;
  const [baseMm, neckMm] = [fit.unknowns[3]!, fit.unknowns[4]!];
  const variances = { baseVariance: fit.covariance[3]![3]!, neckVariance: fit.covariance[4]![4]! };
  const change = {
    baseShiftMm: sure(baseMm, variances.baseVariance),
    neckShiftMm: sure(neckMm, variances.neckVariance),
  };
  return {
    belief: {
      ...variances,
      covariance: fit.covariance[3]![4]!,
      baseMm: baseMm - change.baseShiftMm,
      neckMm: neckMm - change.neckShiftMm,
    },
    change: change.baseShiftMm === 0 && change.neckShiftMm === 0 ? null : change,
  };
}

const sure = (shiftMm: number, variance: number): number =>
  Math.abs(shiftMm) < SURE_SIGMAS * Math.sqrt(variance + COMMON_SD_MM ** 2)
    ? 0
    : Math.max(-MOST_AT_ONCE_MM, Math.min(MOST_AT_ONCE_MM, shiftMm));

/** Drops duplicates: of two similar holds the later one stays. */
function apart(all: readonly StillLoads[]): StillLoads[] {
  const kept: StillLoads[] = [];
  for (const loads of [...all].reverse()) {
    const alike = kept.some(
      (other) =>
        Math.abs(weightGrams(other) - weightGrams(loads)) < ALIKE_GRAMS &&
        Math.abs(Math.acos(other.f[2]) - Math.acos(loads.f[2])) < ALIKE_RAD,
    );
    if (!alike) kept.push(loads);
  }
  return kept;
}
