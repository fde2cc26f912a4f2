/**
 * The sleeve's own messages, one table. Types, encoder, decoder, scanner and protocol page all come from it
 * (sleeve contract, version 2, section 2).
 */
import { FIELD_TYPES, type FieldType } from './cursor.ts';

/** One field, or `count` equal ones in a row. `bits`: names of the bits, lowest first. */
export interface FieldSpec {
  readonly name: string;
  readonly type: FieldType;
  readonly count?: number;
  readonly unit: string;
  readonly meaning: string;
  readonly bits?: readonly { readonly name: string; readonly meaning: string }[];
}

export interface MessageSpec {
  /** Command byte, in Firmata's range for user messages (0x01–0x0F). */
  readonly id: number;
  readonly name: string;
  readonly direction: 'sleeve-to-host' | 'host-to-sleeve';
  readonly meaning: string;
  /** The host asks for it by the same command with an empty body. */
  readonly asked?: true;
  readonly fields: readonly FieldSpec[];
}

/** Version of the sleeve contract that this table states. Version 1 has no MOTION and is otherwise the same. */
export const CONTRACT_VERSION = 2;

export const MESSAGES = {
  SAMPLE: {
    id: 0x01,
    name: 'SAMPLE',
    direction: 'sleeve-to-host',
    meaning: 'One reading of all cells and of the accelerometer, nominally 80 a second while streaming.',
    fields: [
      { name: 'sequence', type: 'u16', unit: '', meaning: 'one more for each sample; wraps' },
      {
        name: 'timeMicros',
        type: 'u32',
        unit: 'µs',
        meaning: 'device time at which the last of the three cells became ready; wraps every 71.6 min',
      },
      { name: 'cells', type: 'i24', count: 3, unit: 'counts', meaning: 'axial, front and rear load cell' },
      {
        name: 'accelerometer',
        type: 'i16',
        count: 3,
        unit: '1/8192 g',
        meaning: 'specific force along x, y, z, the latest reading',
      },
      {
        name: 'flags',
        type: 'u8',
        unit: '',
        meaning: 'what is wrong or new; a flagged field is not used',
        bits: [
          { name: 'axialCellFault', meaning: 'axial cell saturated or silent' },
          { name: 'frontCellFault', meaning: 'front cell saturated or silent' },
          { name: 'rearCellFault', meaning: 'rear cell saturated or silent' },
          { name: 'accelerometerFault', meaning: 'accelerometer fault' },
          { name: 'samplesLost', meaning: 'samples were lost before this one' },
          { name: 'buttonDown', meaning: 'button down' },
          { name: 'supplyLow', meaning: 'supply low' },
          { name: 'firstAfterReset', meaning: 'first sample after a reset' },
        ],
      },
    ],
  },
  IDENTITY: {
    id: 0x02,
    name: 'IDENTITY',
    direction: 'sleeve-to-host',
    asked: true,
    meaning: 'Who the sleeve is: in answer to the host, and once after each reset.',
    fields: [
      { name: 'contractVersion', type: 'u8', unit: '', meaning: 'version of the sleeve contract' },
      {
        name: 'firmwareVersion',
        type: 'u8',
        count: 3,
        unit: '',
        meaning: 'firmware version: major, minor, patch',
      },
      { name: 'sleeveNumber', type: 'u32', unit: '', meaning: 'number of this sleeve' },
      {
        name: 'resetCause',
        type: 'u8',
        unit: '',
        meaning: 'why it last reset: 0 power, 1 brown-out, 2 watchdog, 3 external',
      },
    ],
  },
  STREAM: {
    id: 0x03,
    name: 'STREAM',
    direction: 'host-to-sleeve',
    meaning: 'Turns the stream of samples on or off; it is on after a reset.',
    fields: [{ name: 'on', type: 'u8', unit: '', meaning: '0 off, 1 on' }],
  },
  SOUND: {
    id: 0x04,
    name: 'SOUND',
    direction: 'host-to-sleeve',
    meaning: 'Beeps, made by a hardware timer of the sleeve.',
    fields: [
      { name: 'frequencyHz', type: 'u16', unit: 'Hz', meaning: 'pitch; 0 is silence' },
      { name: 'onMs', type: 'u16', unit: 'ms', meaning: 'length of each beep' },
      { name: 'offMs', type: 'u16', unit: 'ms', meaning: 'silence after each beep' },
      { name: 'repeats', type: 'u8', unit: '', meaning: 'number of beeps' },
    ],
  },
  HEARTBEAT: {
    id: 0x05,
    name: 'HEARTBEAT',
    direction: 'host-to-sleeve',
    meaning:
      'Sent at least once a second. After 2 s without one, and at once when it says off, the sleeve silences the buzzer, shows "no guidance" on the light and takes no light or sound.',
    fields: [{ name: 'guidanceOn', type: 'u8', unit: '', meaning: '1 guidance on, 0 off' }],
  },
  MOTION: {
    id: 0x06,
    name: 'MOTION',
    direction: 'sleeve-to-host',
    meaning:
      'How the sleeve turns: right after the SAMPLE it belongs to. A sleeve without a gyroscope sends none.',
    fields: [
      { name: 'sequence', type: 'u16', unit: '', meaning: 'sequence of the SAMPLE it belongs to' },
      {
        name: 'gyroscope',
        type: 'i16',
        count: 3,
        unit: '1/65.5 °/s',
        meaning: 'angular velocity about x, y, z, right-handed, read together with the accelerometer',
      },
    ],
  },
} as const satisfies Record<string, MessageSpec>;

export type MessageName = keyof typeof MESSAGES;

type Tuple<N extends number, Built extends number[] = []> = Built['length'] extends N
  ? Built
  : Tuple<N, [...Built, number]>;
type FieldValue<F> = F extends { count: infer N extends number } ? Tuple<N> : number;

/** What a message says, as an object: one number per field, a tuple where a field has a count. */
export type MessageValue<M extends MessageSpec> = { [F in M['fields'][number] as F['name']]: FieldValue<F> };

export type Sample = MessageValue<typeof MESSAGES.SAMPLE>;
export type Identity = MessageValue<typeof MESSAGES.IDENTITY>;
export type Stream = MessageValue<typeof MESSAGES.STREAM>;
export type Sound = MessageValue<typeof MESSAGES.SOUND>;
export type Heartbeat = MessageValue<typeof MESSAGES.HEARTBEAT>;
export type Motion = MessageValue<typeof MESSAGES.MOTION>;

const flagsField = MESSAGES.SAMPLE.fields[4];
export type SampleFlag = (typeof flagsField)['bits'][number]['name'];

/** Bit mask of each flag in `Sample.flags`. */
export const SAMPLE_FLAGS = Object.fromEntries(
  flagsField.bits.map((bit, place) => [bit.name, 1 << place]),
) as Record<SampleFlag, number>;

export const CRC_BYTES = 2;

/** @returns length of a message's body before its checksum, bytes. */
export const bodyLength = (message: MessageSpec): number =>
  message.fields.reduce((sum, field) => sum + FIELD_TYPES[field.type].bytes * (field.count ?? 1), 0);
