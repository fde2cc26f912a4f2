/**
 * What a feed teaches about its bottle: at rest, with more and with less milk in it, the moment tells where the milk's ends are. The zeros,
 * which walk, are unknown in the same fit, so that their walk is not taken for another bottle.
 */
import type { Calibration } from '../sensing/calibration.ts';
import { MILK_DENSITY_GRAMS_PER_ML } from '../units.ts';
import type { BottleCorrection } from './corrections.ts';
import type { Hold } from './hold.ts';
import { fitLeastSquares } from './least-squares.ts';
import { changedProfile } from './profile.ts';
import { bottleMisfit, inPlaneShare, type StillLoads, stillLoads, weightGrams } from './still-loads.ts';

export interface Lesson {
  change: BottleCorrection['change'];
  /** Standard deviation of each end, mm. */
  baseSdMm: number;
  neckSdMm: number;
}

/** Holds as near as this to each other, in milk (g) and tilt, tell the same. */
const ALIKE_GRAMS = 5;
const ALIKE_RAD = (8 * Math.PI) / 180;
const LEAST_STATES = 3;
const LEAST_SPAN_GRAMS = 25;
/** What one state's misfit may be off by besides zeros and ends, g: tilt, matrix (own assumption, no source). */
const STATE_SD_GRAMS = 0.5;
const ZERO_SD_GRAMS = 3;
/** Where the file states no uncertainty of its ends, mm (a good drawn outline; own assumption, no source). */
const END_SD_MM = 0.5;
/** Learned only when it is beyond doubt, and never much at once. */
const SURE_SIGMAS = 2;
const MOST_AT_ONCE_MM = 0.5;

/**
 * @param holds at rest with the bottle in, nipple out of the mouth
 * @returns null when they teach nothing
 */
export function learnFromHolds(
  calibration: Calibration,
  holds: readonly Hold[],
  densityGramsPerMl = MILK_DENSITY_GRAMS_PER_ML,
): Lesson | null {
  const states = apart(
    holds.map((hold) => stillLoads(calibration, hold)).filter((one) => inPlaneShare(one) > 0.8),
  );
  const weights = states.map(weightGrams);
  if (states.length < LEAST_STATES || Math.max(...weights) - Math.min(...weights) < LEAST_SPAN_GRAMS)
    return null;
  const { bottle } = calibration;
  const prior = endSds(calibration);
  const residuals = ([x, z, m, base, neck]: readonly number[]): number[] => {
    const profile = changedProfile(bottle.innerProfileMm, {
      baseShiftMm: base!,
      neckShiftMm: neck!,
      widerShare: 0,
    });
    return [
      ...states.flatMap((loads) => {
        const righted = { ...loads, fx: loads.fx - x!, fz: loads.fz - z!, moment: loads.moment - m! };
        const { acrossGrams, turningGrams } = bottleMisfit(righted, bottle, densityGramsPerMl, profile);
        return [acrossGrams / STATE_SD_GRAMS, turningGrams / STATE_SD_GRAMS];
      }),
      ...[x!, z!, m!].map((zero) => zero / ZERO_SD_GRAMS),
      base! / prior.baseMm,
      neck! / prior.neckMm,
    ];
  };
  const fit = fitLeastSquares(residuals, [0, 0, 0, 0, 0], [1, 1, 1, 0.3, 0.3]);
  if (!fit?.converged) return null;
  const baseSdMm = Math.sqrt(fit.covariance[3]![3]!);
  const neckSdMm = Math.sqrt(fit.covariance[4]![4]!);
  const change = {
    baseShiftMm: sure(fit.unknowns[3]!, baseSdMm),
    neckShiftMm: sure(fit.unknowns[4]!, neckSdMm),
  };
  return change.baseShiftMm === 0 && change.neckShiftMm === 0 ? null : { change, baseSdMm, neckSdMm };
}

const sure = (shiftMm: number, sdMm: number): number =>
  Math.abs(shiftMm) < SURE_SIGMAS * sdMm ? 0 : Math.max(-MOST_AT_ONCE_MM, Math.min(MOST_AT_ONCE_MM, shiftMm));

/** The file's expanded uncertainties (k = 2) are what is known beforehand. */
function endSds(calibration: Calibration): { baseMm: number; neckMm: number } {
  const stated = (calibration as { uncertainty?: { baseEndMm?: unknown; neckEndMm?: unknown } }).uncertainty;
  const half = (value: unknown): number =>
    typeof value === 'number' && value > 0 ? Math.max(value / 2, 0.05) : END_SD_MM;
  return { baseMm: half(stated?.baseEndMm), neckMm: half(stated?.neckEndMm) };
}

/** One of each kind: the later of two that are alike. */
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
