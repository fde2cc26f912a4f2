/**
 * The sleeve's own messages, in one table, from which types, encoder, decoder, scanner and protocol page are made
 * (sleeve contract, version 2, section 2).
 */
import { FIELD_TYPES } from './cursor.ts';
import type { MessageSpec, MessageValue } from './message-spec.ts';

/** Version of the sleeve contract implemented by this table. Version 1 has no MOTION and is otherwise the same. */
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
  ALONE_PUT: {
    id: 0x07,
    name: 'ALONE_PUT',
    direction: 'host-to-sleeve',
    meaning:
      'A part of what a sleeve needs to guide on its own (calibration, pace, checksum), for its spare place; taken only from its owner. It answers with ALONE_STATE.',
    fields: [
      { name: 'owner', type: 'u32', unit: '', meaning: 'key of the owner' },
      { name: 'part', type: 'u8', unit: '', meaning: 'which 32 bytes, from 0 on and in their order' },
      { name: 'bytes', type: 'u8', count: 32, unit: '', meaning: 'the part' },
    ],
  },
  ALONE_ORDER: {
    id: 0x08,
    name: 'ALONE_ORDER',
    direction: 'host-to-sleeve',
    meaning:
      'What the owner wants; the sleeve answers with ALONE_STATE. A sleeve without an owner, or with its button held down, takes a new one.',
    fields: [
      { name: 'owner', type: 'u32', unit: '', meaning: 'key of the owner, not 0 and not all ones' },
      {
        name: 'order',
        type: 'u8',
        unit: '',
        meaning: '0 never guide alone, 1 guide alone, 2 this is the owner, 3 the kept feeds were fetched',
      },
    ],
  },
  ALONE_STATE: {
    id: 0x09,
    name: 'ALONE_STATE',
    direction: 'sleeve-to-host',
    asked: true,
    meaning: 'How a sleeve stands that can guide on its own; others do not answer.',
    fields: [
      { name: 'layout', type: 'u8', unit: '', meaning: 'layout of what it keeps' },
      {
        name: 'flags',
        type: 'u8',
        unit: '',
        meaning: 'what holds now',
        bits: [
          { name: 'isReady', meaning: 'what it keeps is whole and its own' },
          { name: 'isOn', meaning: 'an owner has turned it on' },
          { name: 'isOwned', meaning: 'it has an owner' },
          { name: 'isBusy', meaning: 'it is writing: send the next part later' },
          { name: 'isAlone', meaning: 'it guides by itself at this moment' },
        ],
      },
      { name: 'generation', type: 'u8', unit: '', meaning: 'of what it keeps; the next one is one more' },
      { name: 'parts', type: 'u8', unit: '', meaning: 'how many parts of a new one are written' },
      {
        name: 'refused',
        type: 'u8',
        unit: '',
        meaning:
          'why it last refused: 0 not, 1 not the owner, 2 another layout, 3 another sleeve, 4 damaged, 5 out of order, 6 not to be paced',
      },
      { name: 'feeds', type: 'u8', unit: '', meaning: 'how many feeds it has kept' },
      { name: 'checksum', type: 'u16', unit: '', meaning: 'of what it keeps; 0 without' },
    ],
  },
  ALONE_GET: {
    id: 0x0a,
    name: 'ALONE_GET',
    direction: 'host-to-sleeve',
    meaning: 'The owner asks for a part of what the sleeve keeps; it answers with ALONE_PART.',
    fields: [
      { name: 'owner', type: 'u32', unit: '', meaning: 'key of the owner' },
      { name: 'what', type: 'u8', unit: '', meaning: '0 calibration and pace, 1 kept feeds' },
      { name: 'part', type: 'u8', unit: '', meaning: 'which 32 bytes' },
    ],
  },
  ALONE_PART: {
    id: 0x0b,
    name: 'ALONE_PART',
    direction: 'sleeve-to-host',
    meaning: 'A part of what the sleeve keeps.',
    fields: [
      { name: 'what', type: 'u8', unit: '', meaning: 'as asked for' },
      { name: 'part', type: 'u8', unit: '', meaning: 'as asked for' },
      { name: 'bytes', type: 'u8', count: 32, unit: '', meaning: 'the part' },
    ],
  },
  BATTERY: {
    id: 0x0c,
    name: 'BATTERY',
    direction: 'sleeve-to-host',
    asked: true,
    meaning: 'What the battery’s cell shows; a sleeve that does not measure it does not answer.',
    fields: [
      {
        name: 'millivolts',
        type: 'u16',
        unit: 'mV',
        meaning: 'of the cell, mean of some 40 s; 0 before the first reading',
      },
    ],
  },
} as const satisfies Record<string, MessageSpec>;

export type Sample = MessageValue<typeof MESSAGES.SAMPLE>;
export type Identity = MessageValue<typeof MESSAGES.IDENTITY>;
export type Stream = MessageValue<typeof MESSAGES.STREAM>;
export type Sound = MessageValue<typeof MESSAGES.SOUND>;
export type Heartbeat = MessageValue<typeof MESSAGES.HEARTBEAT>;
export type Battery = MessageValue<typeof MESSAGES.BATTERY>;
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
