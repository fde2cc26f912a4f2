/** Bought parts of the sleeve and of the bench, as data: generic types, no shops. */
import { BENCH_PARTS } from './bench-parts.ts';
import { CELL_DATA, CONVERTER_DATA } from './budgets/cells.ts';
import { BATTERY } from './budgets/power.ts';
import { CIRCUIT_PARTS } from './circuit/sleeve-parts.ts';
import { CELL, MOTION_BOARD } from './design.ts';
import { MECHANICAL_PARTS } from './mechanical-parts.ts';
import { ELECTRICAL } from './pins.ts';

export interface PartLine {
  readonly part: string;
  readonly rating: string;
  readonly quantity: number;
  readonly alternatives: string;
  readonly mustMeet: string;
  /** All of this line together, in the sleeve; 0 for what stays on the bench. */
  readonly massGrams: number;
  /** Not in every sleeve: left out of its mass. */
  readonly option?: true;
}

/** Small parts of one kind that the circuit has, counted by value, on boards that a maker solders: those on ready-made boards come with them. */
function countedLines(kind: 'resistor' | 'capacitor'): PartLine[] {
  const bought = CIRCUIT_PARTS.filter((part) => part.kind === kind && !comesWith(part));
  const values = new Map<string, string[]>();
  for (const { ref, value } of bought) values.set(value, [...(values.get(value) ?? []), ref]);
  return [...values].map(([value, refs]) => ({
    part: kind,
    rating: kind === 'resistor' ? `${value}, 1/8 W` : value,
    quantity: refs.length,
    alternatives: '',
    mustMeet: `${refs.join(', ')} of the schematic${kind === 'capacitor' ? '; ceramic' : ''}`,
    massGrams: 0.04 * refs.length,
  }));
}

/** Soldered already on a board that is bought ready-made; but the pull-down and the clock’s capacitor of a converter are not. */
const comesWith = ({ ref, on, role }: (typeof CIRCUIT_PARTS)[number]): boolean =>
  (on.endsWith('converter board') && !/^R[AFR]5$|^C[AFR]7$/.test(ref)) ||
  ['booster board', 'motion board'].includes(on) ||
  (on === 'chip board' && /supply of the chip|reset|AREF/.test(role)) ||
  role.includes('own)');

/** Bought parts. Masses are usual ones, from memory: weigh yours. */
export const BOUGHT: readonly PartLine[] = [
  {
    part: 'load cell, straight bar, full bridge',
    rating: `${CELL_DATA.ratedGrams} g; ${CELL.lengthMm} × ${CELL.widthMm} × ${CELL.thicknessMm} mm; ${CELL_DATA.ratedOutputMvPerV} mV/V; ${CONVERTER_DATA.bridgeOhms} Ω`,
    quantity: 3,
    alternatives:
      '750 g bar of the same size: finer, but its seat must give way at 7 N, which the mouth may reach',
    mustMeet: `deflection at rated load at most ${CELL_DATA.deflectionAtRatedMm} mm (measure it); safe overload at least ${CELL_DATA.safeOverload * 100} %; zero drift at most ${CELL_DATA.zeroDriftPer10K * 100} % of rated output per 10 K`,
    massGrams: 22.4,
  },
  {
    part: 'converter board, HX711-class',
    rating: `24 bits, gain ${ELECTRICAL.converterGain}; 80 readings a second (RATE high); clock into XI; 24 × 16 × 3.5 mm`,
    quantity: 3,
    alternatives: 'bare chip with the parts of the schematic on a perforated board of that size',
    mustMeet: `${CONVERTER_DATA.inputNoiseNvRms} nV rms or less at gain 128 and 80 readings a second; its own PNP regulator, divider 20 kΩ / 8.2 kΩ (analog supply ${CONVERTER_DATA.excitationV} V) and 2 × 100 Ω with 100 nF before INA, as in the schematic; XI and RATE can be cut from ground`,
    massGrams: 4.2,
  },
  {
    part: 'clock oscillator',
    rating: `${ELECTRICAL.converterClockHz / 1e6} MHz, 5 V, 7 × 5 mm or smaller`,
    quantity: 1,
    alternatives: 'crystal oscillator of the same frequency with a buffer',
    mustMeet:
      'within 100 ppm; one output, through 100 Ω, to XTAL1 of the chip and through 20 pF each to all three XI',
    massGrams: 0.4,
  },
  {
    part: 'accelerometer with gyroscope, I²C and interrupt output, on its own board',
    rating: `±4 g at 8192 counts per g; ±500 °/s at 65.5 counts per °/s; 400 kHz; address 0x68; at most ${MOTION_BOARD.acrossMm} × ${MOTION_BOARD.alongMm} × ${MOTION_BOARD.thicknessMm} mm`,
    quantity: 1,
    alternatives:
      'accelerometer alone of the same register map: the sleeve then sends no MOTION, and turning is noise; a module of 21 × 16 mm: take 1 mm off an edge that has no tracks',
    mustMeet:
      'register map named in the firmware; WHO_AM_I 0x68, else its gyroscope is not used; chip within 2 mm of the board’s middle; no pin header; level shifter if it runs on 3.3 V',
    massGrams: 1.5,
  },
  {
    part: 'ATmega328P board',
    rating: '5 V, no USB on board, 34 × 18 × 3.6 mm without pin headers',
    quantity: 1,
    alternatives:
      'the board as bought, at 16 MHz: then its line runs 2.1 % fast, and the oscillator feeds the converters only',
    mustMeet:
      'its resonator can be taken off and XTAL1 reached; A3, the programmer’s six pads and AREF can be reached',
    massGrams: 2,
  },
  {
    part: 'radio board',
    rating:
      'Bluetooth BR/EDR (2.1 or later) with Serial Port Profile, power class 2, 3.3 V, 115200 baud 8N1, 27 × 13 × 3 mm',
    quantity: 1,
    alternatives: 'none other: one radio, so that one guide holds',
    mustMeet:
      'approved as a module for consumer use where you live; no byte lost or changed at 4 kB/s for 30 minutes at 5 m; delay under 300 ms, half of the bytes under 50 ms; pairing with a number of its own; mean at most 45 mA',
    massGrams: 1.6,
  },
  {
    part: 'lithium-ion pouch cell with protection board and plug',
    rating: `${BATTERY.nominalV} V, ${BATTERY.capacityMah} mAh, 40 × 20 × 5 mm`,
    quantity: 1,
    alternatives: 'smaller pouch: shorter life; no coin cells',
    mustMeet:
      'protection against overcharge, deep discharge and short circuit; keyed plug of 1.25 mm, parted only to renew the pouch; test report of its maker (IEC 62133-2; from memory)',
    massGrams: 8.5,
  },
  {
    part: 'booster board',
    rating: '5.0 V, 200 mA from 3.0 to 4.2 V, with enable; 10 × 9 × 3 mm',
    quantity: 1,
    alternatives: 'regulated charge pump with enable',
    mustMeet: 'within 2 % of 5.0 V; ripple under 20 mV; off (under 10 µA) with its enable low',
    massGrams: 1,
  },
  {
    part: 'regulator 3.3 V',
    rating: 'linear, 150 mA, SOT-23',
    quantity: 1,
    alternatives: '',
    mustMeet: 'feeds radio and accelerometer from 5 V',
    massGrams: 0.05,
  },
  {
    part: 'charger of one cell',
    rating: 'linear, 4.20 V ± 1 %, current set by a resistor, SOT-23-5, on a bit of adapter board',
    quantity: 1,
    alternatives: '',
    mustMeet: '200 mA with its resistor; stops by itself at the end of charge',
    massGrams: 0.2,
  },
  {
    part: 'transistor, N-channel',
    rating: '20 V, threshold 1.5 V or less, SOT-23',
    quantity: 2,
    alternatives: '',
    mustMeet: 'lock of the booster while charging; level of the interrupt',
    massGrams: 0.05,
  },
  {
    part: 'diodes',
    rating: 'Schottky 20 V 0.5 A × 1, small signal × 1',
    quantity: 1,
    alternatives: '',
    mustMeet: 'keeps the charging contacts dead; takes the buzzer’s kick',
    massGrams: 0.05,
  },
  {
    part: 'charging contact',
    rating: 'M2 × 6 countersunk screw and nut, stainless',
    quantity: 2,
    alternatives: '',
    mustMeet: 'glued in flush with the end cap: nothing to grip, no way in for water',
    massGrams: 0.6,
  },
  {
    part: 'light: three-color LED',
    rating: 'common cathode, 5 mm, diffused',
    quantity: 1,
    alternatives: 'three single LEDs',
    mustMeet: 'not dazzling: a few millicandela at the set duty',
    massGrams: 0.4,
  },
  ...countedLines('resistor'),
  {
    part: 'level shifter board',
    rating: '5 V to 3.3 V, four lines, 15 × 13 × 3 mm',
    quantity: 1,
    alternatives: '',
    mustMeet: 'one N-channel transistor and two 10 kΩ a line; SDA, SCL at 400 kHz, both lines of the radio',
    massGrams: 0.8,
  },
  ...countedLines('capacitor'),
  {
    part: 'buzzer, passive',
    rating: 'Ø 12 mm, 5 V',
    quantity: 1,
    alternatives: 'piezo disc',
    mustMeet: 'heard at arm’s length, not loud at the baby’s ear: opening points away',
    massGrams: 1.5,
  },
  {
    part: 'vibration motor, option',
    rating: 'Ø 10 mm disc, 5 V, under 100 mA',
    quantity: 1,
    alternatives: 'none: the buzzer stays',
    mustMeet:
      'felt in the grip; with N-channel transistor, diode and 10 kΩ; shut in, nothing that turns can be touched',
    massGrams: 1.5,
    option: true,
  },
  {
    part: 'push button',
    rating: '6 × 6 mm, cap Ø 6.5 mm',
    quantity: 1,
    alternatives: '',
    mustMeet: 'cap cannot be pulled off',
    massGrams: 0.5,
  },
  {
    part: 'slide switch',
    rating: '1 pole, 0.5 A',
    quantity: 1,
    alternatives: '',
    mustMeet: 'recessed',
    massGrams: 0.6,
  },
  {
    part: 'power board',
    rating: 'perforated, 24 × 9 mm',
    quantity: 1,
    alternatives: '',
    mustMeet: 'holds oscillator, regulator, charger, lock and the resistors of light and buzzer',
    massGrams: 0.9,
  },
  ...MECHANICAL_PARTS,
  ...BENCH_PARTS,
];
