/** Wiring table: the pin table in people's words, and the wires that no pin of the chip has. */
import { ELECTRICAL, PINS, type Pin, type WiredPart } from './pins.ts';

export const PART_NAMES: Record<WiredPart, string> = {
  'serial-bridge': 'Radio bridge',
  accelerometer: 'Accelerometer with gyroscope',
  light: 'Light',
  button: 'Button',
  buzzer: 'Buzzer',
  'grip-motor': 'Vibration motor',
  'axial-converter': 'Axial converter',
  'front-converter': 'Front converter',
  'rear-converter': 'Rear converter',
  programmer: 'Programmer',
};

export interface Wire {
  readonly from: string;
  readonly to: string;
  readonly note: string;
}

/** Wires beside the chip's pins: supply, clock, cells. */
export const OTHER_WIRES: readonly Wire[] = [
  { from: 'Battery +, keyed plug behind the door', to: 'Slide switch', note: 'red; 0.05 mm² is enough' },
  { from: 'Slide switch', to: 'Boost converter IN', note: '' },
  { from: 'Battery −', to: 'Boost converter GND', note: 'black; the one ground point of the sleeve' },
  {
    from: `Boost converter OUT, ${(ELECTRICAL.supplyNominalMillivolts / 1000).toFixed(1)} V`,
    to: 'Chip board 5V, converters VSUP and DVDD, oscillator, radio bridge',
    note: '10 µF and 100 nF at each',
  },
  {
    from: `Oscillator, ${ELECTRICAL.converterClockHz / 1e6} MHz`,
    to: 'XI of all three converters',
    note: '20 pF in series each; XO stays open',
  },
  { from: 'RATE of each converter', to: '5 V', note: '80 readings a second' },
  {
    from: 'PD_SCK of each converter',
    to: 'ground through 10 kΩ',
    note: 'keeps it awake while the chip resets',
  },
  { from: 'Load cell E+ and E−', to: 'AVDD and AGND of its converter', note: 'usually red and black' },
  {
    from: 'Load cell S+ and S−',
    to: 'INA+ and INA− of its converter',
    note: 'usually green and white; swap them if pressing counts down',
  },
  { from: 'SDA and SCL', to: 'accelerometer’s supply through 2.2 kΩ each', note: '' },
  {
    from: 'Accelerometer: SDA, SCL, INT, supply, ground',
    to: 'chip board, along the shell’s wall',
    note: 'five wires of 4 to 6 cm; they touch neither the front cell nor the cup',
  },
  {
    from: 'Vibration motor (option)',
    to: '5 V and its transistor’s drain',
    note: 'a diode across it, and 10 kΩ from gate to ground',
  },
  {
    from: 'Chip board DTR',
    to: 'nowhere in the sleeve',
    note: 'only the bench adapter resets the chip, to flash it',
  },
];

const cell = (text: string) => text.replaceAll('|', '\\|');

/** @returns rows of the pin table that have a wire */
export const wiredPins = (): Pin[] => PINS.filter((pin) => pin.wiredTo !== null);

/** @returns the wiring tables in Markdown */
export function wiringTables(): string {
  const pinRows = wiredPins().map(
    (pin) =>
      `| ${cell(pin.label)} | ${PART_NAMES[pin.wiredTo!.part]} | ${cell(pin.wiredTo!.terminal)} | ${cell(pin.use)} | ${cell(pin.note ?? '')} |`,
  );
  const otherRows = OTHER_WIRES.map(
    (wire) => `| ${cell(wire.from)} | ${cell(wire.to)} | ${cell(wire.note)} |`,
  );
  const free = PINS.filter((pin) => pin.wiredTo === null).map((pin) => pin.label);
  return `| pin | part | terminal | what for | note |
| --- | --- | --- | --- | --- |
${pinRows.join('\n')}

Not used: ${free.join(', ')}.

| from | to | note |
| --- | --- | --- |
${otherRows.join('\n')}`;
}
