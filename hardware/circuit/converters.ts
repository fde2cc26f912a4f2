/** The three converters of the load cells, each with its own analog supply, divider and filter. */
import { capacitor, resistor } from './passives.ts';
import type { CircuitPart } from './types.ts';

/** The three converters, each with its own analog regulator, divider and filter, as the HX711 datasheet's reference circuit has them. */

export type ConverterName = 'A' | 'F' | 'R';

const CONVERTERS: Readonly<Record<ConverterName, string>> = { A: 'axial', F: 'front', R: 'rear' };
export function converterParts(c: ConverterName): CircuitPart[] {
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
    resistor(`R${c}1`, 20000, 'divider of the regulator, upper', on),
    resistor(`R${c}2`, 8200, 'divider of the regulator, lower', on),
    resistor(`R${c}3`, 100, 'filter of INA+', on),
    resistor(`R${c}4`, 100, 'filter of INA−', on),
    resistor(`R${c}5`, 10000, 'pull-down of the clock', on),
    capacitor(`C${c}1`, 10e6, 'analog supply', on),
    capacitor(`C${c}2`, 100000, 'analog supply', on),
    capacitor(`C${c}3`, 100000, 'bandgap', on),
    capacitor(`C${c}4`, 100000, 'filter across INA+ and INA−', on),
    capacitor(`C${c}5`, 10e6, '5 V of the board', on),
    capacitor(`C${c}6`, 100000, '5 V of the board', on),
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
