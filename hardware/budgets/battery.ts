/**
 * How full the battery is, from the voltage of its cell at A3, and how long it lasts from there. Written for the program of the chip too: a
 * table of millivolts, straight lines in between. Pure. mV, mA, mAh, minutes.
 */
import { BATTERY, batteryMa, totalMa } from './power.ts';

/**
 * Millivolts of a resting lithium-ion cell (cobalt, 4.20 V) by how full it is, %. Usual curve, from memory; a cell of yours differs
 * by some 20 mV: the first measurements take it down.
 */
export const RESTING_CELL: readonly (readonly [percent: number, millivolts: number])[] = [
  [100, 4190],
  [90, 4060],
  [80, 3980],
  [70, 3920],
  [60, 3870],
  [50, 3820],
  [40, 3790],
  [30, 3770],
  [20, 3740],
  [10, 3680],
  [5, 3450],
  [0, 3000],
];

/** Cell, protection board, plug, switch and wire together, ohms. From memory of such pouches. */
export const CELL_OHMS = 0.3;

/** One warning, so long before the end, minutes. */
export const WARN_MIN = 30;

/** Divider resistor into A3, kΩ, and the greatest leakage of the chip's input, µA (ATmega328P datasheet; from memory). */
export const A3_KOHM = 22;
const LEAKAGE_UA = 1;
/** Reference of the chip once it is trimmed by a meter of 0.5 %, and its walk with warmth; share. From memory. */
export const REFERENCE_SHARE = 0.01;

/** @returns how full a cell is, %, that shows so many millivolts while it gives so many milliamperes */
export function percentFull(millivolts: number, loadMa: number): number {
  const resting = millivolts + loadMa * CELL_OHMS;
  const [top] = RESTING_CELL;
  if (resting >= top![1]) return 100;
  for (let i = 1; i < RESTING_CELL.length; i++) {
    const [[high, highMv], [low, lowMv]] = [RESTING_CELL[i - 1]!, RESTING_CELL[i]!];
    if (resting >= lowMv) return low + ((high - low) * (resting - lowMv)) / (highMv - lowMv);
  }
  return 0;
}

/** The other way: millivolts at the pin for a cell so full. */
export function millivoltsAt(percent: number, loadMa: number): number {
  for (let i = 1; i < RESTING_CELL.length; i++) {
    const [[high, highMv], [low, lowMv]] = [RESTING_CELL[i - 1]!, RESTING_CELL[i]!];
    if (percent >= low)
      return lowMv + ((highMv - lowMv) * (percent - low)) / (high - low) - loadMa * CELL_OHMS;
  }
  return RESTING_CELL[RESTING_CELL.length - 1]![1] - loadMa * CELL_OHMS;
}

const usualMa = (): number => batteryMa(totalMa('usualMa'));
/** An aged cell holds less: what is left of the capacity counts from the bottom. */
const mahOf = (percent: number): number => (percent / 100) * BATTERY.capacityMah * BATTERY.usableFraction;

export const minutesLeft = (percent: number, loadMa = usualMa()): number => (60 * mahOf(percent)) / loadMa;

/** Where the warning is given: % and millivolts at the pin under the usual load. */
export function warning(): { percent: number; millivolts: number } {
  const percent = ((WARN_MIN / 60) * usualMa()) / (BATTERY.capacityMah * BATTERY.usableFraction);
  return { percent: 100 * percent, millivolts: millivoltsAt(100 * percent, usualMa()) };
}

/** What the warning's thirty minutes may turn out to be, minutes: the reading too high or too low by reference and leakage. */
export function warningSpreadMin(): readonly [least: number, most: number] {
  const { millivolts } = warning();
  const off = millivolts * REFERENCE_SHARE + A3_KOHM * LEAKAGE_UA * 0.5;
  const at = (mv: number) => minutesLeft(percentFull(mv, usualMa()));
  return [at(millivolts - off), at(millivolts + off)];
}
