/** Wiring table: the pin table in people's words, and the wires that no pin of the chip has. */
import { SLEEVE_CIRCUIT } from './circuit/sleeve-nets.ts';
import type { Circuit } from './circuit/types.ts';
import { PINS, type Pin, type WiredPart } from './pins.ts';

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
  battery: 'Battery',
  programmer: 'Programmer',
};

/** A wire from board to board: a net of the circuit that is on more than one. */
export interface Wire {
  readonly net: string;
  /** Board, and the pins on it that the net joins. */
  readonly ends: readonly { readonly board: string; readonly pins: readonly string[] }[];
}

/** @returns every net that leaves a board, in the order of the circuit */
export function boardWires(circuit: Circuit = SLEEVE_CIRCUIT): Wire[] {
  const boardOf = new Map(circuit.parts.map(({ ref, on }) => [ref, on]));
  return circuit.nets.flatMap(({ name, pins }) => {
    const ends = new Map<string, string[]>();
    for (const pin of pins) {
      const board = boardOf.get(pin.split('.')[0]!)!;
      ends.set(board, [...(ends.get(board) ?? []), pin]);
    }
    return ends.size < 2 ? [] : [{ net: name, ends: [...ends].map(([board, on]) => ({ board, pins: on })) }];
  });
}

const cell = (text: string) => text.replaceAll('|', '\\|');

/** @returns rows of the pin table that have a wire */
export const wiredPins = (): Pin[] => PINS.filter((pin) => pin.wiredTo !== null);

/** @returns the wiring tables in Markdown */
export function wiringTables(): string {
  const pinRows = wiredPins().map(
    (pin) =>
      `| ${cell(pin.label)} | ${PART_NAMES[pin.wiredTo!.part]} | ${cell(pin.wiredTo!.terminal)} | ${cell(pin.use)} | ${cell(pin.note ?? '')} |`,
  );
  const wireRows = boardWires().map(
    ({ net, ends }) =>
      `| ${net} | ${ends.map(({ board, pins }) => (pins.length > 4 ? board : `${board}: ${pins.join(', ')}`)).join(' — ')} |`,
  );
  const free = PINS.filter((pin) => pin.wiredTo === null).map((pin) => pin.label);
  return `| pin | part | terminal | what for | note |
| --- | --- | --- | --- | --- |
${pinRows.join('\n')}

Not used: ${free.join(', ')}.

Every wire from board to board, by the circuit (names of parts as in the schematic; where a net has many pins on a board, any of its pads will do):

| net | joins |
| --- | --- |
${wireRows.join('\n')}`;
}
