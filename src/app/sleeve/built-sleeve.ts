/** The expected design of a sleeve built by the build guide, from the same figures as its budgets. */
import { CELL_DATA, CONVERTER_DATA, ratedN } from '../../../hardware/budgets/cells.ts';
import { PLACES } from '../../../hardware/design.ts';
import type { SleeveDesign } from '../../calibration/walk/sleeve-design.ts';

/** Counts of a cell at its rated load: its output over the converter's half range of ±0.5·AVDD/gain (HX711 datasheet). */
function countsAtRated(): number {
  const { excitationV, gain, bits } = CONVERTER_DATA;
  const outputV = (CELL_DATA.ratedOutputMvPerV / 1000) * excitationV;
  return (outputV / ((0.5 * excitationV) / gain)) * 2 ** (bits - 1);
}

const newtonsPerCount = ratedN / countsAtRated();

export const BUILT_DESIGN: SleeveDesign = {
  frontCellZMm: PLACES.frontZMm,
  rearCellZMm: PLACES.rearZMm,
  newtonsPerCount: [newtonsPerCount, newtonsPerCount, newtonsPerCount],
  // Inner cup with liner (hardware/BUDGETS.md).
  cupMassGrams: 32,
  cupCentreZMm: 50,
  // Load cells of other makers give about 0.7 to 1.3 mV/V (from memory).
  doubt: 0.4,
};

/** Position of the accelerometer chip, for the calibration file. */
export const BUILT_ACCELEROMETER_MM: readonly [number, number, number] = PLACES.accelerometerMm;
