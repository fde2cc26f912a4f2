/** Small corrections to a bottle that feeds have taught: kept beside what was calibrated, so that they can be seen and undone. */

import { PlainError } from '../../base/errors.ts';
import { type Calibration, parseCalibration } from '../../sensing/loads/calibration.ts';
import { bottleNameOf } from '../walk/noted.ts';
import { changedProfile, type ProfileChange } from '../walk/profile.ts';

export interface BottleCorrection {
  /** When it was learned; `feedId`: from which feed. */
  learnedAt: string;
  feedId: string;
  change: Pick<ProfileChange, 'baseShiftMm' | 'neckShiftMm'>;
  emptyMassGrams: number;
}

interface CarriedBottle {
  asCalibrated?: { emptyMassGrams: number; innerProfileMm: [number, number][] };
  corrections?: BottleCorrection[];
}

/** Beyond these limits it must be another bottle, mm and g. */
const FURTHEST = { endMm: 2, massGrams: 5 } as const;

export const correctionsOf = (calibration: Calibration): readonly BottleCorrection[] =>
  (calibration.bottle as CarriedBottle).corrections ?? [];

/**
 * @returns the calibration with one more correction applied
 * @throws PlainError correction-large when their sum exceeds the limits; then the bottle must be calibrated again
 */
export function withCorrection(calibration: Calibration, correction: BottleCorrection): Calibration {
  return rebuilt(calibration, [...correctionsOf(calibration), correction]);
}

function rebuilt(calibration: Calibration, corrections: readonly BottleCorrection[]): Calibration {
  const {
    asCalibrated,
    corrections: _,
    ...bottle
  } = calibration.bottle as Calibration['bottle'] & CarriedBottle;
  const original = asCalibrated ?? {
    emptyMassGrams: bottle.emptyMassGrams,
    innerProfileMm: bottle.innerProfileMm,
  };
  const total = { baseShiftMm: 0, neckShiftMm: 0, widerShare: 0 };
  let massGrams = 0;
  for (const { change, emptyMassGrams } of corrections) {
    total.baseShiftMm += change.baseShiftMm;
    total.neckShiftMm += change.neckShiftMm;
    massGrams += emptyMassGrams;
  }
  if (
    Math.max(Math.abs(total.baseShiftMm), Math.abs(total.neckShiftMm)) > FURTHEST.endMm ||
    Math.abs(massGrams) > FURTHEST.massGrams
  ) {
    throw new PlainError(
      'correction-large',
      `What the feeds have taught about the bottle "${bottleNameOf(calibration) ?? 'bottle'}" goes too far to be a small correction.`,
      'Check that it is this bottle, and calibrate it again.',
    );
  }
  const carried = corrections.length > 0 ? { asCalibrated: original, corrections } : {};
  return parseCalibration(
    {
      ...calibration,
      bottle: {
        ...bottle,
        emptyMassGrams: original.emptyMassGrams + massGrams,
        innerProfileMm: changedProfile(original.innerProfileMm, total),
        ...carried,
      },
    },
    'with what feeds have taught',
  );
}
