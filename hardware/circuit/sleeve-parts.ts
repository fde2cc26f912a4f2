/**
 * Every part of the sleeve's circuit with its pins. Levels and currents are of the data sheets named, from memory where it says
 * so: check them on the sheets of what you buy.
 */
import { ELECTRICAL, PINS } from '../pins.ts';
import { converterParts } from './converters.ts';
import { outside } from './outside.ts';
import { CHIP, capacitor, POWER, passive, resistor } from './passives.ts';
import { supply } from './supply.ts';
import type { CircuitPart, CircuitPin } from './types.ts';

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

export const CIRCUIT_PARTS: readonly CircuitPart[] = [
  ...core,
  ...(['A', 'F', 'R'] as const).flatMap(converterParts),
  ...supply,
  ...outside,
];
