/** The calibration of a simulated sleeve: the exact one, and one with the errors of a good calibration. */

import type { Random } from '../base/random.ts';
import { mapTriple } from '../base/typed.ts';
import { newtonsFromGrams } from '../base/units.ts';
import type { BottleShape, ProfilePoint } from './bottle.ts';
import type { GyroscopeConstants, SleeveConstants } from './drawn-sleeve.ts';
import type { Matrix, Triple } from './vectors.ts';

/** A calibration file's content (sleeve contract, section 4). */
export interface SleeveCalibration {
  version: 1;
  sleeveId: string;
  calibratedAt: string;
  zeroCounts: Triple;
  loadPerCount: Matrix;
  accelerometer: { biasG: Triple; scale: Triple; positionMm?: Triple };
  gyroscope?: GyroscopeConstants;
  bottle: {
    emptyMassGrams: number;
    emptyCentreZMm: number;
    teatTipZMm: number;
    innerProfileMm: [number, number][];
  };
}

/** The exact calibration of sleeve and bottle. */
export function exactCalibration(
  sleeve: SleeveConstants,
  bottle: BottleShape,
  sleeveId: string,
): SleeveCalibration {
  return {
    version: 1,
    sleeveId,
    calibratedAt: '2026-01-05T09:00:00Z',
    zeroCounts: [...sleeve.zeroCounts],
    loadPerCount: mapTriple(sleeve.loadPerCount, (row) => [...row]),
    accelerometer: { biasG: [...sleeve.accelerometerBiasG], scale: [...sleeve.accelerometerScale] },
    bottle: {
      emptyMassGrams: bottle.emptyMassGrams,
      emptyCentreZMm: bottle.emptyCentreZMm,
      teatTipZMm: bottle.teatTipZMm,
      innerProfileMm: bottle.innerProfileMm.map(([z, r]) => [z, r]),
    },
  };
}

/** Additional parts of the file of a sleeve that measures turning. */
export interface MotionParts {
  accelerometerMm: Readonly<Triple>;
  /** Null where there is none. */
  gyroscope: GyroscopeConstants | null;
}

/** @returns the calibration with the accelerometer's place and the gyroscope. */
export function withMotionParts(
  calibration: SleeveCalibration,
  { accelerometerMm, gyroscope }: MotionParts,
): SleeveCalibration {
  return {
    ...calibration,
    accelerometer: { ...calibration.accelerometer, positionMm: [...accelerometerMm] },
    ...(gyroscope && { gyroscope: { biasDps: [...gyroscope.biasDps], scale: [...gyroscope.scale] } }),
  };
}

/** @returns a gyroscope's constants as found by a good calibration: the mean at rest for a minute, and the scale from turning by hand. */
export function foundGyroscope(
  { biasDps, scale }: GyroscopeConstants,
  random: Random,
  errorScale: number,
): GyroscopeConstants {
  const off = (sd: number): number => errorScale * sd * random.normal();
  return {
    biasDps: mapTriple(biasDps, (bias) => bias + off(RESIDUAL.rateBiasDps)),
    scale: mapTriple(scale, (one) => one * (1 + off(RESIDUAL.rateScaleShare))),
  };
}

/**
 * Standard deviations of the errors of a good calibration. Sizes: gains 0.05 %, profile ends 0.4 mm, empty centre
 * 0.4 mm, accelerometer 1–3 mg; the rest is in proportion (own assumption, no source).
 */
const RESIDUAL = {
  gainShare: 0.0005,
  zeroGrams: 0.15,
  biasG: 0.0015,
  scaleShare: 0.0006,
  emptyMassGrams: 0.08,
  emptyCentreMm: 0.4,
  teatTipMm: 0.4,
  profileEndMm: 0.4,
  radiusMm: 0.08,
  rateBiasDps: 0.1,
  rateScaleShare: 0.002,
} as const;

/** @param errorScale 0 gives the exact calibration, 1 a good one */
export function goodCalibration(
  exact: SleeveCalibration,
  random: Random,
  errorScale: number,
): SleeveCalibration {
  if (errorScale === 0) return exact;
  const off = (sd: number): number => errorScale * sd * random.normal();
  const { loadPerCount, bottle } = exact;
  const newtonsPerCount: Triple = [loadPerCount[1][0], loadPerCount[0][1], loadPerCount[0][2]];
  // A cell's whole column shares one gain error; crosstalk has a tenth of it in addition.
  const columnGain = [0, 0, 0].map(() => 1 + off(RESIDUAL.gainShare));
  const baseShiftMm = off(RESIDUAL.profileEndMm);
  const neckShiftMm = off(RESIDUAL.profileEndMm);
  const middle = (bottle.innerProfileMm.length - 1) / 2;
  const profile = bottle.innerProfileMm.map(([z, r], i): ProfilePoint => {
    const shift = i < middle ? baseShiftMm : neckShiftMm;
    return [round(z + shift, 2), round(r + off(RESIDUAL.radiusMm), 2)];
  });
  return {
    ...exact,
    zeroCounts: mapTriple(exact.zeroCounts, (zero, i) =>
      Math.round(zero + newtonsFromGrams(off(RESIDUAL.zeroGrams)) / newtonsPerCount[i]!),
    ),
    loadPerCount: mapTriple(loadPerCount, (row) =>
      mapTriple(row, (entry, i) => entry * columnGain[i]! * (1 + off(RESIDUAL.gainShare / 10))),
    ),
    accelerometer: {
      ...exact.accelerometer,
      biasG: mapTriple(exact.accelerometer.biasG, (bias) => round(bias + off(RESIDUAL.biasG), 5)),
      scale: mapTriple(exact.accelerometer.scale, (scale) =>
        round(scale * (1 + off(RESIDUAL.scaleShare)), 5),
      ),
    },
    bottle: {
      emptyMassGrams: round(bottle.emptyMassGrams + off(RESIDUAL.emptyMassGrams), 2),
      emptyCentreZMm: round(bottle.emptyCentreZMm + off(RESIDUAL.emptyCentreMm), 2),
      teatTipZMm: round(bottle.teatTipZMm + off(RESIDUAL.teatTipMm), 2),
      innerProfileMm: profile.map(([z, r]) => [z, r]),
    },
  };
}

function round(number: number, digits: number): number {
  const unit = 10 ** digits;
  return Math.round(number * unit) / unit;
}
