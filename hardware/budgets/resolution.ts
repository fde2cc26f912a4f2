/** From the datasheets' numbers to grams: what a count weighs, what noise weighs, what a misplaced cell does. Pure. */
import { gramsFromNewtons } from '../../src/base/units.ts';
import { BOTTLE, PLACES } from '../design.ts';
import { CELL_DATA, CONVERTER_DATA } from './cells.ts';
import { type Carried, cellForces, type Hold, MILK_LEVER_MM } from './holds.ts';

/** Largest input of the converter either way, mV: ±0.5·AVDD/gain. */
export const fullScaleMv = (excitationV: number, gain: number): number => (0.5 * excitationV * 1000) / gain;

/** Volts of one count, nV. */
export const countNv = (): number =>
  (fullScaleMv(CONVERTER_DATA.excitationV, CONVERTER_DATA.gain) * 1e6) / 2 ** (CONVERTER_DATA.bits - 1);

/** Bars as built in, and a small button cell for comparison: rated load and output typical of the kind, from memory. */
export interface CellKind {
  readonly ratedGrams: number;
  readonly ratedOutputMvPerV: number;
}
export const BUTTON_CELL: CellKind = { ratedGrams: 5000, ratedOutputMvPerV: 1 };

/** What the cell gives at rated load, mV. */
export const ratedMv = ({ ratedOutputMvPerV }: CellKind = CELL_DATA): number =>
  ratedOutputMvPerV * CONVERTER_DATA.excitationV;

export const gramsPerCount = (kind: CellKind = CELL_DATA): number =>
  (kind.ratedGrams * countNv()) / (ratedMv(kind) * 1e6);

/** Thermal noise of the bridge over half the sample rate at 300 K, nV rms: √(4·k·T·R·B). */
export const bridgeNoiseNv = (): number =>
  Math.sqrt(4 * 1.380649e-23 * 300 * CONVERTER_DATA.bridgeOhms * 40) * 1e9;

/** Noise of one cell at 80 readings a second, g rms and counts rms. */
export function cellNoise(kind: CellKind = CELL_DATA): { grams: number; counts: number } {
  const counts = Math.hypot(CONVERTER_DATA.inputNoiseNvRms, bridgeNoiseNv()) / countNv();
  return { grams: counts * gramsPerCount(kind), counts };
}

/** Noise of milk from the balance about the teat's tip in a level hold, g rms, after averaging `samples` readings. */
export function milkNoiseGrams(samples: number): number {
  const arms = [BOTTLE.teatTipZMm - PLACES.frontZMm, BOTTLE.teatTipZMm - PLACES.rearZMm];
  return (Math.hypot(...arms) * cellNoise().grams) / MILK_LEVER_MM / Math.sqrt(samples);
}

export type Misplaced = 'front cell' | 'rear cell' | 'tip of the nipple';

/** What `byMm` between the true place and the calibrated one does to the milk of the level balance, g. */
export function misplacedGrams(what: Misplaced, byMm: number, load: Carried, hold: Hold): number {
  const forces = cellForces(load, hold);
  const forceN =
    what === 'front cell'
      ? forces.frontN
      : what === 'rear cell'
        ? forces.rearN
        : forces.frontN + forces.rearN;
  return (gramsFromNewtons(forceN) * byMm) / MILK_LEVER_MM;
}

/** Slow errors of cheap bars in milk of the level balance, g: warming of one cell by `kelvin`, creep of all under `load`. */
export const warmingGrams = (kelvin: number): number =>
  (CELL_DATA.zeroDriftPer10K * CELL_DATA.ratedGrams * (kelvin / 10) * (BOTTLE.teatTipZMm - PLACES.rearZMm)) /
  MILK_LEVER_MM;
export const creepGrams = (load: Carried): number => CELL_DATA.creep * load.massGrams;
