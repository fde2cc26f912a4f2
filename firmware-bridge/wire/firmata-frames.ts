/**
 * Splits a stream of bytes into whole Firmata messages, in either direction, with limited memory.
 * Source: Firmata protocol 2.5 (protocol.md of the protocol's repository), "Message Types" and "Sysex Message Format".
 */
import { MESSAGE_END, MESSAGE_START } from './codec.ts';

/** Commands of ordinary Firmata messages; those ending in 0 carry a port or pin in their low nibble. */
export const FIRMATA = {
  digitalPort: 0x90,
  reportAnalog: 0xc0,
  reportDigital: 0xd0,
  analog: 0xe0,
  pinMode: 0xf4,
  digitalPin: 0xf5,
  protocolVersion: 0xf9,
  systemReset: 0xff,
  /** Between F0 and F7: */
  analogMappingQuery: 0x69,
  analogMapping: 0x6a,
  capabilityQuery: 0x6b,
  capabilities: 0x6c,
  pinStateQuery: 0x6d,
  pinState: 0x6e,
  extendedAnalog: 0x6f,
  text: 0x71,
  firmware: 0x79,
  samplingInterval: 0x7a,
} as const;

/** Modes a pin can be in. */
export const PIN_MODES = { input: 0, output: 1, analog: 2, pwm: 3, pullup: 11 } as const;

/** Longer messages than this are dropped; the longest answer, capabilities of 20 pins, has less than 200. */
const MAX_FIRMATA_BYTES = 512;

export interface FirmataFramer {
  readonly direction: 'host-to-sleeve' | 'sleeve-to-host';
  readonly buffer: Uint8Array;
  length: number;
  /** Full length of the message begun; 0 between F0 and F7, where the end is marked; -1 while no message is open. */
  expected: number;
  /** Messages dropped because they were incomplete or too long. */
  dropped: number;
}

export const createFirmataFramer = (direction: FirmataFramer['direction']): FirmataFramer => ({
  direction,
  buffer: new Uint8Array(MAX_FIRMATA_BYTES),
  length: 0,
  expected: -1,
  dropped: 0,
});

/**
 * Takes the next bytes, in chunks of any size; calls `emit` with each whole message (a copy, F0 and F7 included).
 * A message cut short by another command, or too long, is dropped and counted; bytes outside of messages are skipped.
 */
export function frameFirmata(
  framer: FirmataFramer,
  chunk: Uint8Array,
  emit: (message: Uint8Array) => void,
): void {
  for (const byte of chunk) {
    if (byte > 0x7f) {
      if (byte === MESSAGE_END) {
        if (framer.expected === 0) {
          push(framer, byte);
          finish(framer, emit);
        } else drop(framer);
        continue;
      }
      drop(framer);
      framer.expected = expectedLength(byte, framer.direction);
      if (framer.expected >= 0) push(framer, byte);
    } else if (framer.expected >= 0) {
      push(framer, byte);
    }
    if (framer.expected > 0 && framer.length === framer.expected) finish(framer, emit);
  }
}

function push(framer: FirmataFramer, byte: number): void {
  // The last place is kept for F7.
  if (framer.length >= MAX_FIRMATA_BYTES - 1 && byte !== MESSAGE_END) drop(framer);
  else framer.buffer[framer.length++] = byte;
}

function finish(framer: FirmataFramer, emit: (message: Uint8Array) => void): void {
  const message = framer.buffer.slice(0, framer.length);
  framer.length = 0;
  framer.expected = -1;
  emit(message);
}

function drop(framer: FirmataFramer): void {
  if (framer.expected >= 0) framer.dropped++;
  framer.length = 0;
  framer.expected = -1;
}

function expectedLength(command: number, direction: FirmataFramer['direction']): number {
  switch (command < 0xf0 ? command & 0xf0 : command) {
    case MESSAGE_START:
      return 0;
    case FIRMATA.reportAnalog:
    case FIRMATA.reportDigital:
      return 2;
    case FIRMATA.digitalPort:
    case FIRMATA.analog:
    case FIRMATA.pinMode:
    case FIRMATA.digitalPin:
      return 3;
    case FIRMATA.protocolVersion:
      return direction === 'sleeve-to-host' ? 3 : 1;
    case FIRMATA.systemReset:
      return 1;
    default:
      return -1;
  }
}
