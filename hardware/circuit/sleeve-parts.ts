/**
 * Every part of the sleeve's circuit with its pins. Levels and currents are of the data sheets named, from memory where it says
 * so: check them on the sheets of what you buy.
 */
import { ELECTRICAL, PINS } from '../pins.ts';
import type { CircuitPart, CircuitPin } from './types.ts';

const passive = (...names: string[]): CircuitPin[] =>
  names.map((name) => ({ name, kind: 'passive' as const }));

export const resistor = (ref: string, ohms: number, role: string, on: string): CircuitPart => ({
  ref,
  kind: 'resistor',
  role,
  value: ohms >= 1000 ? `${ohms / 1000} kΩ, 1 %` : `${ohms} Ω, 5 %`,
  ohms,
  pins: passive('1', '2'),
  on,
});

const pfText = (pf: number) =>
  pf >= 1e6 ? `${pf / 1e6} µF, 10 V` : pf >= 1000 ? `${pf / 1000} nF` : `${pf} pF, C0G`;
export const capacitor = (ref: string, picofarads: number, role: string, on: string): CircuitPart => ({
  ref,
  kind: 'capacitor',
  role,
  value: pfText(picofarads),
  picofarads,
  pins: passive('1', '2'),
  on,
});

/** 5 V CMOS of the chip: ATmega328P datasheet, "DC Characteristics" (from memory): VOH 4.2 V at 20 mA, VIH 0.6·VCC. */
const CHIP_OUT = { highV: [4.2, 5.1], limitMa: 20 } as const;
const CHIP_IN = { inputV: [3.0, 5.5] } as const;

function chipPins(): CircuitPin[] {
  const ofTable = PINS.map((pin): CircuitPin => {
    const name = pin.label;
    // Clock of the programmer, on the bench only.
    if (name === 'D13') return { name, kind: 'analog' };
    if (name === 'A3') return { name, kind: 'analog' };
    if (pin.direction === 'free') return { name, kind: 'in', open: 'free; input with pull-up' };
    if (name === 'D8') return { name, kind: 'out', open: 'vibration motor: an option, not in this circuit' };
    if (pin.direction === 'out') return { name, kind: 'out', ...CHIP_OUT };
    // The bus asks for 0.7·VCC, and sinks 3 mA at 0.4 V (same datasheet, two-wire interface).
    if (pin.direction === 'open-drain')
      return { name, kind: 'open-drain', inputV: [3.5, 5.5], limitMa: 3, picofarads: 10 };
    return { name, kind: 'in', ...CHIP_IN, ...(pin.direction === 'in-pullup' && { pullUp: true as const }) };
  });
  return [
    ...ofTable,
    { name: 'VCC', kind: 'supply', drawsMa: [8.3, 33.3], rangeV: [4.5, 5.5] },
    { name: 'GND', kind: 'ground' },
    { name: 'AREF', kind: 'analog' },
    { name: 'RESET', kind: 'in', inputV: [4.5, 5.5] },
    // External clock: VIH of XTAL1 is 0.7·VCC.
    { name: 'XTAL1', kind: 'in', inputV: [3.5, 5.5], picofarads: 10 },
  ];
}

/** The three converters, each with its own analog regulator, divider and filter, as the HX711 datasheet's reference circuit has them. */
export type ConverterName = 'A' | 'F' | 'R';
export const CONVERTERS: Readonly<Record<ConverterName, string>> = { A: 'axial', F: 'front', R: 'rear' };

function converterParts(c: ConverterName): CircuitPart[] {
  const on = `${CONVERTERS[c]} converter board`;
  return [
    {
      ref: `U${c}`,
      kind: 'chip',
      role: `${CONVERTERS[c]} converter`,
      value: 'HX711-class, SOP-16, 24 bits',
      on,
      source: 'HX711 datasheet, pin table and "Key Electrical Characteristics" (levels from memory)',
      pins: [
        { name: 'VSUP', kind: 'supply', drawsMa: [0, 0], rangeV: [2.7, 5.5] },
        { name: 'BASE', kind: 'analog' },
        { name: 'AVDD', kind: 'supply', drawsMa: [1.4, 1.5], rangeV: [2.6, 5.5] },
        { name: 'VFB', kind: 'analog' },
        { name: 'AGND', kind: 'ground' },
        { name: 'VBG', kind: 'analog' },
        { name: 'INA-', kind: 'analog' },
        { name: 'INA+', kind: 'analog' },
        { name: 'INB-', kind: 'analog' },
        { name: 'INB+', kind: 'analog' },
        { name: 'PD_SCK', kind: 'in', inputV: [3.5, 5.5] },
        { name: 'DOUT', kind: 'out', highV: [4.5, 5.1], limitMa: 1 },
        { name: 'XO', kind: 'analog', open: 'clock comes in at XI' },
        { name: 'XI', kind: 'analog' },
        { name: 'RATE', kind: 'in', inputV: [3.5, 5.5] },
        { name: 'DVDD', kind: 'supply', drawsMa: [0.1, 0.1], rangeV: [2.6, 5.5] },
      ],
    },
    {
      ref: `Q${c}`,
      kind: 'transistor',
      role: 'regulator of the analog supply',
      value: 'PNP, 100 mA or more, gain 100 or more',
      on,
      pins: [
        { name: 'E', kind: 'supply', drawsMa: [5.7, 5.9], rangeV: [4.6, 5.5] },
        { name: 'B', kind: 'analog' },
        { name: 'C', kind: 'source', limitMa: 100 },
      ],
    },
    resistor(`R${c}1`, 20_000, 'divider of the regulator, upper', on),
    resistor(`R${c}2`, 8200, 'divider of the regulator, lower', on),
    resistor(`R${c}3`, 100, 'filter of INA+', on),
    resistor(`R${c}4`, 100, 'filter of INA−', on),
    resistor(`R${c}5`, 10_000, 'pull-down of the clock', on),
    capacitor(`C${c}1`, 10e6, 'analog supply', on),
    capacitor(`C${c}2`, 100_000, 'analog supply', on),
    capacitor(`C${c}3`, 100_000, 'bandgap', on),
    capacitor(`C${c}4`, 100_000, 'filter across INA+ and INA−', on),
    capacitor(`C${c}5`, 10e6, '5 V of the board', on),
    capacitor(`C${c}6`, 100_000, '5 V of the board', on),
    capacitor(`C${c}7`, 20, 'clock to XI', on),
    {
      ref: `B${c}`,
      kind: 'other',
      role: `${CONVERTERS[c]} load cell`,
      value: 'full bridge, 1000 Ω, 1 mV/V',
      on: `${CONVERTERS[c]} cell`,
      source: 'Ohm’s law: 4.3 V over 1000 Ω',
      pins: [
        { name: 'E+', kind: 'supply', drawsMa: [4.3, 4.4], rangeV: [3, 6] },
        { name: 'E-', kind: 'ground' },
        { name: 'S+', kind: 'analog' },
        { name: 'S-', kind: 'analog' },
      ],
    },
  ];
}

const POWER = 'power board';
const CHIP = 'chip board';

const core: readonly CircuitPart[] = [
  {
    ref: 'U1',
    kind: 'chip',
    role: 'chip',
    value: 'ATmega328P on a board without USB, its own resonator taken off',
    on: CHIP,
    source:
      'ATmega328P datasheet, "DC Characteristics": 5.2 (9) mA at 8 MHz and 5 V, by proportion at 11.0592 MHz, from memory; light and buzzer, which it feeds, by Ohm’s law',
    pins: chipPins(),
  },
  capacitor('C1', 100_000, 'supply of the chip', CHIP),
  capacitor('C2', 10e6, 'supply of the chip', CHIP),
  capacitor('C3', 100_000, 'AREF', CHIP),
  resistor('R1', 10_000, 'reset stays high', CHIP),
  resistor('R2', 22_000, 'cell of the battery to A3; lets next to nothing through while 5 V is off', CHIP),
  capacitor('C4', 100_000, 'steadies A3', CHIP),
  {
    ref: 'J2',
    kind: 'other',
    role: 'programmer, bench only',
    value: 'six pads, 2 × 3, 2.54 mm',
    on: CHIP,
    pins: passive('MISO', 'VCC', 'SCK', 'MOSI', 'RESET', 'GND'),
  },
  {
    ref: 'Y1',
    kind: 'chip',
    role: 'one clock for chip and converters',
    value: `oscillator ${ELECTRICAL.converterClockHz / 1e6} MHz, 5 V, 100 ppm, 15 pF load`,
    on: POWER,
    source: 'usual oscillators of this kind, from memory',
    pins: [
      { name: 'VDD', kind: 'supply', drawsMa: [3, 10], rangeV: [4.5, 5.5] },
      { name: 'GND', kind: 'ground' },
      { name: 'OUT', kind: 'out', highV: [4.5, 5.1], limitMa: 8 },
      { name: 'EN', kind: 'in', inputV: [2.2, 5.5], open: 'open is on' },
    ],
  },
  capacitor('C5', 100_000, 'supply of the oscillator', POWER),
  resistor('R3', 100, 'damps the clock’s edge', POWER),
];

const supply: readonly CircuitPart[] = [
  {
    ref: 'BT1',
    kind: 'other',
    role: 'battery',
    value: 'lithium-ion pouch, 400 mAh, 5 × 20 × 40 mm, with protection board',
    on: 'grip',
    source: 'usual limit of such pouches: one time the capacity an hour; from memory',
    pins: [
      { name: '+', kind: 'source', limitMa: 400 },
      { name: '-', kind: 'ground' },
    ],
  },
  {
    ref: 'J1',
    kind: 'other',
    role: 'plug of the battery, parted only to renew it',
    value: 'keyed, 2 poles, 1.25 mm',
    on: 'grip',
    pins: passive('1', '2'),
  },
  {
    ref: 'S1',
    kind: 'other',
    role: 'slide switch',
    value: '1 pole, 0.5 A',
    on: 'end cap',
    pins: passive('1', '2'),
  },
  {
    ref: 'U5',
    kind: 'chip',
    role: 'booster',
    value: '5.0 V ± 2 %, 200 mA from 3.0 V, with enable; at most 10 × 10 × 3 mm',
    on: 'booster board',
    source: 'requirement',
    pins: [
      { name: 'IN', kind: 'supply', drawsMa: [104, 190], rangeV: [2.9, 4.3] },
      { name: 'EN', kind: 'in', inputV: [1.2, 5.5] },
      { name: 'GND', kind: 'ground' },
      { name: 'OUT', kind: 'source', limitMa: 200 },
    ],
  },
  capacitor('C6', 10e6, 'booster, in', 'booster board'),
  capacitor('C7', 10e6, 'booster, out', 'booster board'),
  resistor('R4', 100_000, 'booster on while the switch is on', 'booster board'),
  {
    ref: 'U6',
    kind: 'chip',
    role: 'regulator, 3.3 V',
    value: 'linear, 3.3 V, 150 mA, SOT-23',
    on: POWER,
    source: 'usual regulators of this kind, from memory',
    pins: [
      { name: 'IN', kind: 'supply', drawsMa: [33.8, 49.3], rangeV: [3.6, 6] },
      { name: 'GND', kind: 'ground' },
      { name: 'OUT', kind: 'source', limitMa: 150 },
    ],
  },
  capacitor('C8', 1e6, 'regulator, in', POWER),
  capacitor('C9', 10e6, 'regulator, out; also for the bursts of the radio', POWER),
  {
    ref: 'J3',
    kind: 'other',
    role: 'charging contacts, dead off the stand',
    value: 'two screws M2 × 6 in the end cap, stainless, countersunk',
    on: 'end cap',
    pins: [
      { name: '+', kind: 'source', limitMa: 500 },
      { name: '-', kind: 'ground' },
    ],
  },
  {
    ref: 'D1',
    kind: 'diode',
    role: 'nothing comes out at the contacts',
    value: 'Schottky, 20 V, 0.5 A',
    dropV: 0.35,
    on: POWER,
    pins: [
      { name: 'A', kind: 'supply', drawsMa: [0, 210], rangeV: [4.7, 5.3] },
      { name: 'K', kind: 'source', limitMa: 500 },
    ],
  },
  {
    ref: 'U7',
    kind: 'chip',
    role: 'charger of one cell',
    value: 'linear, 4.20 V ± 1 %, current set by a resistor, SOT-23-5',
    on: POWER,
    source: 'usual chargers of this kind, from memory: 1000 V over the resistor',
    pins: [
      { name: 'VIN', kind: 'supply', drawsMa: [0, 205], rangeV: [4.3, 6.5] },
      { name: 'GND', kind: 'ground' },
      { name: 'BAT', kind: 'analog' },
      { name: 'PROG', kind: 'analog' },
      {
        name: 'STAT',
        kind: 'open-drain',
        inputV: [0, 6],
        limitMa: 5,
        open: 'the charging stand shows the current',
      },
    ],
  },
  resistor('R5', 5000, 'charging current 200 mA, half the capacity an hour', POWER),
  capacitor('C10', 4.7e6, 'charger, in', POWER),
  capacitor('C11', 4.7e6, 'charger, out', POWER),
  {
    ref: 'Q1',
    kind: 'transistor',
    role: 'lock: on the charging stand the sleeve is off',
    value: 'N-channel, 20 V, threshold 1.5 V or less, SOT-23',
    on: POWER,
    pins: [
      { name: 'G', kind: 'in', inputV: [2, 8] },
      { name: 'S', kind: 'ground' },
      { name: 'D', kind: 'open-drain', inputV: [0, 20], limitMa: 100 },
    ],
  },
  resistor('R6', 10_000, 'lock: gate from the contacts', POWER),
  resistor('R7', 100_000, 'lock: gate low while nothing is on the contacts', POWER),
];

const outside: readonly CircuitPart[] = [
  {
    ref: 'U8',
    kind: 'chip',
    role: 'accelerometer with gyroscope',
    value: '±4 g, ±500 °/s, I²C 0x68, on its own board of 3.3 V',
    on: 'motion board',
    source: 'product specification of such chips: 3.8 mA; from memory',
    pins: [
      { name: 'VDD', kind: 'supply', drawsMa: [3.8, 4.3], rangeV: [2.4, 3.46] },
      { name: 'GND', kind: 'ground' },
      { name: 'SDA', kind: 'open-drain', inputV: [2.31, 3.8], limitMa: 3, picofarads: 10 },
      { name: 'SCL', kind: 'open-drain', inputV: [2.31, 3.8], limitMa: 3, picofarads: 10 },
      { name: 'INT', kind: 'out', highV: [2.97, 3.4], limitMa: 1 },
      { name: 'AD0', kind: 'in', inputV: [2.31, 3.8] },
    ],
  },
  capacitor('C12', 100_000, 'supply of the motion board', 'motion board'),
  {
    ref: 'U9',
    kind: 'chip',
    role: 'level shifter, four lines',
    value: 'four N-channel transistors with 10 kΩ on either side; 13 × 15 mm board',
    on: 'level shifter',
    source: 'usual boards of this kind, from memory',
    pins: [
      { name: 'HV', kind: 'supply', drawsMa: [0, 1], rangeV: [4.5, 5.5] },
      { name: 'LV', kind: 'supply', drawsMa: [0, 0], rangeV: [3, 3.6] },
      { name: 'GND', kind: 'ground' },
      ...[1, 2, 3, 4].flatMap((n): CircuitPin[] => [
        { name: `HV${n}`, kind: 'open-drain', inputV: [2, 5.5], limitMa: 100, picofarads: 10 },
        { name: `LV${n}`, kind: 'open-drain', inputV: [2, 3.6], limitMa: 100, picofarads: 10 },
      ]),
    ],
  },
  capacitor('C13', 100_000, 'supply of the level shifter, 5 V', 'level shifter'),
  capacitor('C14', 100_000, 'supply of the level shifter, 3.3 V', 'level shifter'),
  resistor('R8', 10_000, 'pulls SDA up, 5 V side (the shifter’s own)', 'level shifter'),
  resistor('R9', 10_000, 'pulls SCL up, 5 V side (the shifter’s own)', 'level shifter'),
  resistor('R10', 4700, 'pulls SDA up, 3.3 V side', 'level shifter'),
  resistor('R11', 4700, 'pulls SCL up, 3.3 V side', 'level shifter'),
  resistor('R12', 10_000, 'line to the host, 5 V side (the shifter’s own)', 'level shifter'),
  resistor('R13', 10_000, 'line to the host, 3.3 V side (the shifter’s own)', 'level shifter'),
  resistor('R14', 10_000, 'line from the host, 5 V side (the shifter’s own)', 'level shifter'),
  resistor('R15', 10_000, 'line from the host, 3.3 V side (the shifter’s own)', 'level shifter'),
  {
    ref: 'Q2',
    kind: 'transistor',
    role: 'level shifter of the interrupt',
    value: 'N-channel, 20 V, threshold 1.5 V or less, SOT-23',
    on: CHIP,
    source: '3.3 V are not surely high for a chip on 5 V: 0.9·3.2 V is less than 0.6·5.1 V',
    pins: [
      { name: 'G', kind: 'analog' },
      { name: 'S', kind: 'analog' },
      { name: 'D', kind: 'open-drain', inputV: [0, 20], limitMa: 100 },
    ],
  },
  resistor('R16', 10_000, 'pulls the interrupt up behind its transistor', CHIP),
  {
    ref: 'U10',
    kind: 'chip',
    role: 'radio',
    value: 'Bluetooth BR/EDR, Serial Port Profile, power class 2, 3.3 V, 27 × 13 × 3 mm',
    on: 'radio board',
    source: 'data sheets of serial radio modules of this kind: 15 to 36 mA at 115200 baud; from memory',
    pins: [
      { name: 'VCC', kind: 'supply', drawsMa: [30, 45], rangeV: [3.0, 3.6] },
      { name: 'GND', kind: 'ground' },
      { name: 'TXD', kind: 'out', highV: [2.9, 3.4], limitMa: 4 },
      { name: 'RXD', kind: 'in', inputV: [2.31, 3.6] },
      { name: 'KEY', kind: 'in', inputV: [2.31, 3.6], open: 'commands are set on the bench, once' },
    ],
  },
  capacitor('C15', 100_000, 'supply of the radio', 'radio board'),
  capacitor('C16', 10e6, 'supply of the radio', 'radio board'),
  {
    ref: 'LED1',
    kind: 'light',
    role: 'light',
    value: 'three colors, common cathode, 5 mm, diffused',
    dropV: 1.8,
    on: 'end cap',
    pins: passive('R', 'G', 'B', 'K'),
  },
  resistor('R17', 680, 'red', POWER),
  resistor('R18', 680, 'green', POWER),
  resistor('R19', 680, 'blue', POWER),
  { ref: 'S2', kind: 'other', role: 'button', value: '6 × 6 mm', on: 'end cap', pins: passive('1', '2') },
  {
    ref: 'BZ1',
    kind: 'other',
    role: 'buzzer, passive',
    value: 'Ø 12 mm, 5 V, 40 Ω or more',
    on: 'end cap',
    pins: passive('1', '2'),
  },
  resistor('R20', 330, 'buzzer', POWER),
  {
    ref: 'D2',
    kind: 'diode',
    role: 'takes the buzzer’s kick',
    value: 'small signal, 75 V, 0.15 A',
    dropV: 0.7,
    on: POWER,
    pins: passive('A', 'K'),
  },
];

export const CIRCUIT_PARTS: readonly CircuitPart[] = [
  ...core,
  ...(['A', 'F', 'R'] as const).flatMap(converterParts),
  ...supply,
  ...outside,
];
