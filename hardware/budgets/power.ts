/** Current by part, battery life, and what "supply low" leaves. Pure. mA, V, mAh, hours. */
import { ELECTRICAL } from '../pins.ts';
import { CONVERTER_DATA } from './cells.ts';

export interface Consumer {
  readonly part: string;
  /** Usual and greatest mean current on the 5 V line, mA. */
  readonly usualMa: number;
  readonly greatestMa: number;
  readonly source: string;
}

const bridgeMa = (CONVERTER_DATA.excitationV / CONVERTER_DATA.bridgeOhms) * 1000;

export const CONSUMERS: readonly Consumer[] = [
  {
    part: 'chip, 11.0592 MHz, 5 V, awake',
    usualMa: 7.2,
    greatestMa: 12.5,
    source:
      'ATmega328P datasheet, DC characteristics: 5.2 (9) mA at 8 MHz and 5 V, by proportion; at 16 MHz 3.2 (5.5) mA more',
  },
  {
    part: 'three converters',
    usualMa: 3 * 1.5,
    greatestMa: 3 * 1.6,
    source: 'HX711 datasheet: normal operation < 1.5 mA',
  },
  {
    part: 'three bridges',
    usualMa: 3 * bridgeMa,
    greatestMa: 3 * bridgeMa,
    source: '4.3 V over 1 kΩ each, Ohm’s law',
  },
  {
    part: 'clock oscillator',
    usualMa: 3,
    greatestMa: 10,
    source: 'usual 11.0592 MHz oscillators, from memory',
  },
  {
    part: 'accelerometer with gyroscope',
    usualMa: 3.8,
    greatestMa: 4.3,
    source: 'product specification of such chips: 3.8 mA, of which the gyroscope takes 3.3; from memory',
  },
  {
    part: 'light',
    usualMa: 0.9,
    greatestMa: 13.2,
    source: 'one color of 2 V through 680 Ω at 20 % duty; all three full on; Ohm’s law',
  },
  {
    part: 'buzzer',
    usualMa: 0.2,
    greatestMa: 7.6,
    source: '5 V through 330 Ω half the time: a second a minute; without end',
  },
  {
    part: 'radio bridge, sending',
    usualMa: 30,
    greatestMa: 45,
    source: 'datasheets of serial radio modules of this kind: 15 to 36 mA at 115200 baud; bursts to 80 mA',
  },
];

export const BATTERY = {
  /** Lithium-ion pouch with its own protection. */
  capacityMah: 400,
  nominalV: 3.7,
  /** What a year of use and a cool room leave. Assumption, no source. */
  usableFraction: 0.8,
  boosterEfficiency: 0.85,
  boosterOutV: ELECTRICAL.supplyNominalMillivolts / 1000,
  /** Share of the capacity left when the pouch no longer holds the booster up (about 3.0 V). Assumption, no source. */
  leftAtBoosterDropout: 0.02,
} as const;

export const totalMa = (pick: 'usualMa' | 'greatestMa'): number =>
  CONSUMERS.reduce((sum, each) => sum + each[pick], 0);

/** Current out of the pouch for a current on the 5 V line, mA. */
export const batteryMa = (lineMa: number): number =>
  (lineMa * BATTERY.boosterOutV) / (BATTERY.nominalV * BATTERY.boosterEfficiency);

/** Hours of use from full to empty. */
export const batteryHours = (lineMa: number): number =>
  (BATTERY.capacityMah * BATTERY.usableFraction) / batteryMa(lineMa);

/** Minutes between "supply low" and the end, from the little the pouch still holds then. */
export const minutesAfterSupplyLow = (lineMa: number): number =>
  ((BATTERY.capacityMah * BATTERY.leftAtBoosterDropout) / batteryMa(lineMa)) * 60;

/** Skin of the shell, and what still air takes away from it: 8 W/(m²·K), radiation in it; from memory of the usual figures. */
export const SKIN = { cm2: 300, wattsPerM2K: 8 } as const;

/** How much warmer the whole skin gets than the room, K, with all that the battery gives turned to heat inside. */
export const warmsByK = (lineMa: number): number =>
  ((batteryMa(lineMa) / 1000) * BATTERY.nominalV) / ((SKIN.cm2 / 1e4) * SKIN.wattsPerM2K);
