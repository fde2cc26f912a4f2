/**
 * What the load budgets assume of the bar cells and of the converters behind them. A maker measures the cells that
 * arrive and changes the figures here; everything else follows.
 */

import { STANDARD_GRAVITY_MPS2 } from '../../src/base/units.ts';
import { WIRE } from '../design.ts';
import { axialStiffnessNPerMm, roundAreaMm2 } from './beams.ts';

export const CELL_DATA = {
  ratedGrams: 1000,
  /** Output at rated load, mV per volt of excitation: typical of small bars, from memory. */
  ratedOutputMvPerV: 1,
  /** Safe overload, share of rated load: typical of small bars, from memory. */
  safeOverload: 1.5,
  /** Deflection at rated load, mm. A requirement of ours, to be measured with a dial gauge. */
  deflectionAtRatedMm: 0.1,
  /** Side force that shows up as load: typical of small bars, from memory; to be measured. */
  sideSensitivity: 0.02,
  /** Zero drift, share of rated output per 10 K; creep, share of the load in 20 minutes: typical of cheap bars, from memory. */
  zeroDriftPer10K: 0.001,
  creep: 0.0005,
} as const;

export const CONVERTER_DATA = {
  /** Analog supply of the converter and excitation of the bridge, V: its own regulator, 1.25 V × (20 k + 8.2 k)/8.2 k. */
  excitationV: 4.3,
  gain: 128,
  /** HX711 datasheet, "Key Electrical Characteristics": input noise at gain 128 with RATE high (80 readings a second). */
  inputNoiseNvRms: 90,
  /** Same: full-scale differential input is ±0.5·AVDD/gain (±20 mV at 5 V); 24 bits, two's complement. */
  bits: 24,
  bridgeOhms: 1000,
} as const;

export const ratedN = (CELL_DATA.ratedGrams / 1000) * STANDARD_GRAVITY_MPS2;
const cellStiffnessNPerMm = ratedN / CELL_DATA.deflectionAtRatedMm;

/** A cell in series with its strut, N/mm. */
export const supportStiffnessNPerMm = (): number => {
  const strut = axialStiffnessNPerMm(
    WIRE.strutLengthMm,
    WIRE.youngsModulusMPa,
    roundAreaMm2(WIRE.strutDiameterMm),
  );
  return 1 / (1 / cellStiffnessNPerMm + 1 / strut);
};
