/**
 * The sleeve's pin table, the one place that says what is wired to the chip. The firmware's pins.h is made from it
 * (`npm run gen`), and so are the wiring table and drawing. Numbers are those of the usual ATmega328P boards, which
 * Firmata uses too; port and bit are those of the ATmega328P datasheet, section "Pin Configurations".
 */

/** Something outside the chip that has a wire to it. */
export type WiredPart =
  | 'serial-bridge'
  | 'accelerometer'
  | 'light'
  | 'button'
  | 'buzzer'
  | 'grip-motor'
  | 'axial-converter'
  | 'front-converter'
  | 'rear-converter'
  | 'battery'
  | 'programmer';

/** A pin as a Firmata host may use it: mode number of the protocol and resolution in bits. */
export interface FirmataMode {
  readonly mode: number;
  readonly bits: number;
}

export interface Pin {
  /** Board number, 0 to 19. */
  readonly number: number;
  /** As printed on the usual boards. */
  readonly label: string;
  /** Name in the firmware: PIN_<NAME>. */
  readonly name: string;
  readonly port: 'B' | 'C' | 'D';
  readonly bit: number;
  readonly direction: 'in' | 'in-pullup' | 'out' | 'open-drain' | 'free';
  /** What the chip does with it, for people. */
  readonly use: string;
  /** Part of the chip that drives or watches it. */
  readonly unit: string;
  /** Level while nothing happens. */
  readonly idle: 'low' | 'high' | 'any';
  readonly wiredTo: { readonly part: WiredPart; readonly terminal: string } | null;
  /** What a Firmata host may do with it; none where the firmware keeps it to itself. */
  readonly firmata: readonly FirmataMode[];
  readonly note?: string;
}

const LIGHT_MODES: readonly FirmataMode[] = [
  { mode: 1, bits: 1 },
  { mode: 3, bits: 8 },
];
const BUTTON_MODES: readonly FirmataMode[] = [
  { mode: 0, bits: 1 },
  { mode: 11, bits: 1 },
];

const PWM_NOTE = '976 Hz, 8 bits; common cathode, so high is lit; one series resistor per color';
const DATA_NOTE = 'falling edge: a reading is ready; watched by the pin change interrupt PCINT1';
const CLOCK_NOTE =
  'a high of more than 60 µs powers the converter down, so a pull-down keeps it low during a reset';

const lightPin = (number: number, name: string, bit: number, unit: string, color: string): Pin => ({
  number,
  label: `D${number}`,
  name,
  port: 'D',
  bit,
  direction: 'out',
  use: `light, ${color}`,
  unit,
  idle: 'low',
  wiredTo: { part: 'light', terminal: `${color} anode, through its resistor` },
  firmata: LIGHT_MODES,
  note: PWM_NOTE,
});

type Cell = 'axial' | 'front' | 'rear';

const converterClock = (number: number, cell: Cell, bit: number): Pin => ({
  number,
  label: `D${number}`,
  name: `${cell.toUpperCase()}_SCK`,
  port: 'B',
  bit,
  direction: 'out',
  use: `${cell} cell: clock of its converter`,
  unit: 'port',
  idle: 'low',
  wiredTo: { part: `${cell}-converter`, terminal: 'PD_SCK' },
  firmata: [],
  note: CLOCK_NOTE,
});

const converterData = (number: number, cell: Cell, bit: number): Pin => ({
  number,
  label: `A${number - 14}`,
  name: `${cell.toUpperCase()}_DOUT`,
  port: 'C',
  bit,
  // The pull-up makes a torn wire read as "nothing ready" instead of as noise.
  direction: 'in-pullup',
  use: `${cell} cell: data of its converter`,
  unit: 'pin change interrupt',
  idle: 'high',
  wiredTo: { part: `${cell}-converter`, terminal: 'DOUT' },
  firmata: [],
  note: DATA_NOTE,
});

const freePin = (number: number, label: string, port: Pin['port'], bit: number, note?: string): Pin => ({
  number,
  label,
  name: `FREE_${label}`,
  port,
  bit,
  direction: 'free',
  use: 'not used',
  unit: 'port',
  idle: 'any',
  wiredTo: null,
  firmata: [],
  ...(note === undefined ? {} : { note }),
});

/** All pins in the order of their numbers. */
export const PINS: readonly Pin[] = [
  {
    number: 0,
    label: 'D0/RX',
    name: 'LINE_RX',
    port: 'D',
    bit: 0,
    direction: 'in-pullup',
    use: 'serial line from the host',
    unit: 'USART0',
    idle: 'high',
    wiredTo: { part: 'serial-bridge', terminal: 'TX' },
    firmata: [],
    note: '115200 baud, 8N1; at 16 MHz the chip runs at 117647 baud (+2.1 %), at 11.0592 MHz exactly',
  },
  {
    number: 1,
    label: 'D1/TX',
    name: 'LINE_TX',
    port: 'D',
    bit: 1,
    direction: 'out',
    use: 'serial line to the host',
    unit: 'USART0',
    idle: 'high',
    wiredTo: { part: 'serial-bridge', terminal: 'RX' },
    firmata: [],
    note: 'do not wire the bridge’s DTR or RTS to reset: opening the port must not reset the chip',
  },
  {
    number: 2,
    label: 'D2',
    name: 'ACCEL_INT',
    port: 'D',
    bit: 2,
    direction: 'in',
    use: 'accelerometer and gyroscope: reading ready',
    unit: 'INT0',
    idle: 'low',
    wiredTo: { part: 'accelerometer', terminal: 'INT' },
    firmata: [],
    note: 'rising edge; push-pull output of the accelerometer, through a transistor of its own to 5 V',
  },
  lightPin(3, 'LIGHT_RED', 3, 'Timer2, OC2B', 'red'),
  {
    number: 4,
    label: 'D4',
    name: 'BUTTON',
    port: 'D',
    bit: 4,
    direction: 'in-pullup',
    use: 'button',
    unit: 'port',
    idle: 'high',
    wiredTo: { part: 'button', terminal: 'one side, the other to ground' },
    firmata: BUTTON_MODES,
    note: 'pressed is low; debounced over 20 ms in the firmware',
  },
  lightPin(5, 'LIGHT_GREEN', 5, 'Timer0, OC0B', 'green'),
  lightPin(6, 'LIGHT_BLUE', 6, 'Timer0, OC0A', 'blue'),
  freePin(7, 'D7', 'D', 7),
  {
    number: 8,
    label: 'D8',
    name: 'GRIP_MOTOR',
    port: 'B',
    bit: 0,
    direction: 'out',
    use: 'vibration motor in the grip, in place of the buzzer (option)',
    unit: 'port',
    idle: 'low',
    wiredTo: { part: 'grip-motor', terminal: 'gate of its transistor; left open where none is fitted' },
    firmata: [],
    note: 'used only where EEPROM byte 6 is 1; the loads of a sample are flagged while it runs and until it has come to rest',
  },
  {
    number: 9,
    label: 'D9',
    name: 'BUZZER',
    port: 'B',
    bit: 1,
    direction: 'out',
    use: 'buzzer (passive)',
    unit: 'Timer1, OC1A',
    idle: 'low',
    wiredTo: { part: 'buzzer', terminal: 'one side, through its resistor; the other to ground' },
    firmata: [],
    note: 'square wave, made by the timer alone; low while silent',
  },
  converterClock(10, 'axial', 2),
  converterClock(11, 'front', 3),
  converterClock(12, 'rear', 4),
  freePin(13, 'D13', 'B', 5, 'clock of the programmer while flashing; lamp on many boards'),
  converterData(14, 'axial', 0),
  converterData(15, 'front', 1),
  converterData(16, 'rear', 2),
  {
    number: 17,
    label: 'A3',
    name: 'BATTERY_CELL',
    port: 'C',
    bit: 3,
    direction: 'in',
    use: 'the battery’s cell',
    unit: 'ADC3',
    idle: 'any',
    wiredTo: { part: 'battery', terminal: 'the cell, behind the switch, through 22 kΩ' },
    firmata: [],
    note: 'measured against the chip’s own 1.1 V reference; 100 nF to ground',
  },
  {
    number: 18,
    label: 'A4',
    name: 'ACCEL_SDA',
    port: 'C',
    bit: 4,
    direction: 'open-drain',
    use: 'accelerometer and gyroscope: I²C data',
    unit: 'TWI',
    idle: 'high',
    wiredTo: { part: 'accelerometer', terminal: 'SDA' },
    firmata: [],
    note: '400 kHz; through the level shifter to the accelerometer at 3.3 V; pull-ups 10 kΩ (5 V side) and 4.7 kΩ (3.3 V side)',
  },
  {
    number: 19,
    label: 'A5',
    name: 'ACCEL_SCL',
    port: 'C',
    bit: 5,
    direction: 'open-drain',
    use: 'accelerometer and gyroscope: I²C clock',
    unit: 'TWI',
    idle: 'high',
    wiredTo: { part: 'accelerometer', terminal: 'SCL' },
    firmata: [],
    note: '400 kHz; through the level shifter to the accelerometer at 3.3 V; pull-ups 10 kΩ (5 V side) and 4.7 kΩ (3.3 V side)',
  },
];

/** Pins of the three cells in the order of the SAMPLE message. */
export const CELLS: readonly Cell[] = ['axial', 'front', 'rear'];

/** @throws RangeError when there is no pin of that name */
export function pinNamed(name: string): Pin {
  const pin = PINS.find((each) => each.name === name);
  if (!pin) throw new RangeError(`No pin is named ${name}.`);
  return pin;
}

/** Electrical facts that firmware, emulated chip and budgets share. */
export const ELECTRICAL = {
  chip: 'ATmega328P',
  chipClockHz: 16_000_000,
  baud: 115_200,
  /** What the chip runs on, measured by itself against its own 1.1 V reference. */
  supplyNominalMillivolts: 5000,
  /** Below it a sample says "supply low"; above it again by the margin, it no longer does. */
  supplyLowMillivolts: 4600,
  supplyMarginMillivolts: 50,
  /** Fuse BODLEVEL 100: 4.1 to 4.5 V. ATmega328P datasheet, "System and Reset Characteristics". */
  brownOutMillivolts: 4300,
  /** One oscillator into XI of all three converters: 11.0592 MHz / 138240 = 80 readings a second (RATE high). */
  converterClockHz: 11_059_200,
  converterDivider: 138_240,
  /** 25 clock pulses: channel A, gain 128. */
  converterGain: 128,
  accelerometerAddress: 0x68,
  /**
   * Which of the chip's own axes (0 x, 1 y, 2 z) lies along the sleeve's x, y, z. The board lies along the bottle with the chip towards
   * it, the chip's y towards the nipple: its z is the sleeve's x, its x the sleeve's y. A turn, so angular velocity goes the same way.
   */
  motionAxes: [2, 0, 1],
  i2cHz: 400_000,
  pwmHz: 16_000_000 / 64 / 256,
} as const;
