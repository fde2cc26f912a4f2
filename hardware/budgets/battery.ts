/** When the gauge (src/base/battery-gauge.ts) warns, and how far off that may be. Pure. mV, mA, mAh, minutes. */
import { millivoltsAt, minutesLeft, percentFull, WARN_MIN } from '../../src/base/battery-gauge.ts';
import { BATTERY, batteryMa, totalMa } from './power.ts';

/** Divider resistor into A3, kΩ, and the greatest leakage of the chip's input, µA (ATmega328P datasheet; from memory). */
export const A3_KOHM = 22;
const LEAKAGE_UA = 1;
/** Reference of the chip once it is trimmed by a meter of 0.5 %, and its walk with warmth; share. From memory. */
export const REFERENCE_SHARE = 0.01;

export const usualMa = (): number => batteryMa(totalMa('usualMa'));
/** Where the warning is given: % and millivolts at the pin under the usual load. */
export function warning(): { percent: number; millivolts: number } {
  const percent = ((WARN_MIN / 60) * usualMa()) / (BATTERY.capacityMah * BATTERY.usableFraction);
  return { percent: 100 * percent, millivolts: millivoltsAt(100 * percent, usualMa()) };
}

/** What the warning's thirty minutes may turn out to be, minutes: the reading too high or too low by reference and leakage. */
export function warningSpreadMin(): readonly [least: number, most: number] {
  const { millivolts } = warning();
  const off = millivolts * REFERENCE_SHARE + A3_KOHM * LEAKAGE_UA * 0.5;
  const at = (mv: number) => minutesLeft(percentFull(mv, usualMa()), usualMa());
  return [at(millivolts - off), at(millivolts + off)];
}
