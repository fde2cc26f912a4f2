/** A circuit as data: parts with pins, and nets that join them. Volts, milliamperes, ohms, picofarads. */

export type PinKind =
  /** Takes its supply from the net; gives one to it. */
  | 'supply'
  | 'source'
  | 'ground'
  /** Push-pull output, input, open-drain (pulled up by a resistor), and what a converter or a cell has. */
  | 'out'
  | 'in'
  | 'open-drain'
  | 'analog'
  /** Resistors, capacitors, lights, switches, plugs. */
  | 'passive';

export interface CircuitPin {
  readonly name: string;
  readonly kind: PinKind;
  /** Of an output: least high level under light load, and the greatest it can be. */
  readonly highV?: readonly [least: number, most: number];
  /** Of an input or open-drain pin: least level that surely reads high, and the most it stands. */
  readonly inputV?: readonly [high: number, most: number];
  /** Of an output: what it may give for long. Of a source: what it can give. Of an open-drain pin: what it sinks at a good low. */
  readonly limitMa?: number;
  /** Of a supply pin: usual and greatest mean current, and its range of volts. */
  readonly drawsMa?: readonly [usual: number, greatest: number];
  readonly rangeV?: readonly [least: number, most: number];
  readonly picofarads?: number;
  /** Has a pull-up inside the chip. */
  readonly pullUp?: true;
  /** Left open on purpose: why. */
  readonly open?: string;
}

export type PartKind = 'chip' | 'resistor' | 'capacitor' | 'light' | 'diode' | 'transistor' | 'other';

export interface CircuitPart {
  readonly ref: string;
  readonly kind: PartKind;
  readonly role: string;
  /** Value or class, with its range. */
  readonly value: string;
  readonly ohms?: number;
  readonly picofarads?: number;
  /** Lost across it while it conducts, V. */
  readonly dropV?: number;
  readonly pins: readonly CircuitPin[];
  /** On which board or in which place it sits. */
  readonly on: string;
  /** Where the levels and currents of its pins come from. */
  readonly source?: string;
}

export interface Net {
  readonly name: string;
  /** Of a supply: its volts, least and most. */
  readonly volts?: readonly [least: number, most: number];
  /** REF.PIN each. */
  readonly pins: readonly string[];
  readonly bus?: 'i2c';
  /** Wire of so many cm: 1 pF each. */
  readonly wireCm?: number;
}

export interface Circuit {
  readonly parts: readonly CircuitPart[];
  readonly nets: readonly Net[];
}
