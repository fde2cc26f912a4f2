/**
 * The ordinary Firmata messages a sleeve understands and answers with.
 * Source: Firmata protocol 2.5 (protocol.md of the protocol's repository).
 */
import { decodeMessage, encodeMessage, MESSAGE_END, MESSAGE_START } from './codec.ts';
import { createFirmataFramer, FIRMATA, type FirmataFramer, frameFirmata } from './firmata-frames.ts';
import {
  type Heartbeat,
  type Identity,
  MESSAGES,
  type Motion,
  type Sample,
  type Sound,
  type Stream,
} from './messages.ts';

/** What a host asks of a sleeve, in words. */
export type HostMessage =
  | {
      kind: 'system-reset' | 'version-query' | 'firmware-query' | 'capability-query' | 'analog-mapping-query';
    }
  | { kind: 'pin-state-query'; pin: number }
  | { kind: 'pin-mode'; pin: number; mode: number }
  | { kind: 'digital-port'; port: number; mask: number }
  | { kind: 'digital-pin'; pin: number; high: boolean }
  | { kind: 'report-analog'; channel: number; on: boolean }
  | { kind: 'report-digital'; port: number; on: boolean }
  | { kind: 'analog'; pin: number; level: number }
  | { kind: 'text'; text: string }
  | { kind: 'identity-request' }
  | ({ kind: 'stream' } & Stream)
  | ({ kind: 'sound' } & Sound)
  | ({ kind: 'heartbeat' } & Heartbeat)
  /** Not understood, or of ours with a wrong checksum: ignored by a sleeve, shown by tests. */
  | { kind: 'unknown'; bytes: Uint8Array };

export const createHostParser = (): FirmataFramer => createFirmataFramer('host-to-sleeve');

/** @returns what the host said in `chunk`, which may be split anywhere. */
export function parseHostTraffic(parser: FirmataFramer, chunk: Uint8Array): HostMessage[] {
  const messages: HostMessage[] = [];
  frameFirmata(parser, chunk, (bytes) => messages.push(readHostMessage(bytes)));
  return messages;
}

/** @param bytes one whole message from the host */
export function readHostMessage(bytes: Uint8Array): HostMessage {
  const command = bytes[0]!;
  const first = bytes[1] ?? 0;
  const wide = first | ((bytes[2] ?? 0) << 7);
  const low = command & 0x0f;
  switch (command < 0xf0 ? command & 0xf0 : command) {
    case FIRMATA.systemReset:
      return { kind: 'system-reset' };
    case FIRMATA.protocolVersion:
      return { kind: 'version-query' };
    case FIRMATA.pinMode:
      return { kind: 'pin-mode', pin: first, mode: bytes[2]! };
    case FIRMATA.digitalPin:
      return { kind: 'digital-pin', pin: first, high: bytes[2] !== 0 };
    case FIRMATA.digitalPort:
      return { kind: 'digital-port', port: low, mask: wide & 0xff };
    case FIRMATA.reportAnalog:
      return { kind: 'report-analog', channel: low, on: first !== 0 };
    case FIRMATA.reportDigital:
      return { kind: 'report-digital', port: low, on: first !== 0 };
    case FIRMATA.analog:
      return { kind: 'analog', pin: low, level: wide };
    case MESSAGE_START:
      return readHostSysex(bytes);
    default:
      return { kind: 'unknown', bytes };
  }
}

function readHostSysex(bytes: Uint8Array): HostMessage {
  const inside = bytes.subarray(2, -1);
  const unknown: HostMessage = { kind: 'unknown', bytes };
  switch (bytes[1]) {
    case FIRMATA.firmware:
      return { kind: 'firmware-query' };
    case FIRMATA.capabilityQuery:
      return { kind: 'capability-query' };
    case FIRMATA.analogMappingQuery:
      return { kind: 'analog-mapping-query' };
    case FIRMATA.pinStateQuery:
      return inside.length === 1 ? { kind: 'pin-state-query', pin: inside[0]! } : unknown;
    case FIRMATA.extendedAnalog:
      return inside.length < 2
        ? unknown
        : {
            kind: 'analog',
            pin: inside[0]!,
            level: inside.slice(1).reduce((sum, bits, i) => sum + bits * 2 ** (7 * i), 0),
          };
    case FIRMATA.text:
      return { kind: 'text', text: readText(inside) };
    case MESSAGES.IDENTITY.id:
      return isIdentityRequest(inside) ? { kind: 'identity-request' } : unknown;
    case MESSAGES.STREAM.id: {
      const stream = decodeMessage(MESSAGES.STREAM, bytes);
      return stream ? { kind: 'stream', ...stream } : unknown;
    }
    case MESSAGES.SOUND.id: {
      const sound = decodeMessage(MESSAGES.SOUND, bytes);
      return sound ? { kind: 'sound', ...sound } : unknown;
    }
    case MESSAGES.HEARTBEAT.id: {
      const heartbeat = decodeMessage(MESSAGES.HEARTBEAT, bytes);
      return heartbeat ? { kind: 'heartbeat', ...heartbeat } : unknown;
    }
    default:
      return unknown;
  }
}

/** An empty body is taken both ways: nothing at all, and nothing but the checksum of nothing (FF FF, packed). */
const isIdentityRequest = (inside: Uint8Array): boolean =>
  inside.length === 0 ||
  (inside.length === 3 && inside[0] === 0x7f && inside[1] === 0x7f && inside[2] === 0x03);

function readText(inside: Uint8Array): string {
  let text = '';
  for (let i = 0; i + 1 < inside.length; i += 2)
    text += String.fromCharCode(inside[i]! | (inside[i + 1]! << 7));
  return text.replaceAll('\0', '');
}

const sysex = (command: number, ...inside: number[]): Uint8Array =>
  Uint8Array.of(MESSAGE_START, command, ...inside, MESSAGE_END);
const spread14 = (text: string): number[] =>
  [...new TextEncoder().encode(text)].flatMap((byte) => [byte & 0x7f, byte >> 7]);

/** One pin as told in the capability answer: its modes, each with its resolution in bits; none when unsupported. */
export type PinCapabilities = readonly { mode: number; bits: number }[];

/** What a sleeve answers, as bytes for the line. */
export const sleeveAnswers = {
  protocolVersion: (major: number, minor: number): Uint8Array =>
    Uint8Array.of(FIRMATA.protocolVersion, major, minor),
  firmware: (name: string, major: number, minor: number): Uint8Array =>
    sysex(FIRMATA.firmware, major, minor, ...spread14(name)),
  capabilities: (pins: readonly PinCapabilities[]): Uint8Array =>
    sysex(
      FIRMATA.capabilities,
      ...pins.flatMap((modes) => [...modes.flatMap(({ mode, bits }) => [mode, bits]), 0x7f]),
    ),
  /** @param channels analog channel of each pin, null where it has none */
  analogMapping: (channels: readonly (number | null)[]): Uint8Array =>
    sysex(FIRMATA.analogMapping, ...channels.map((channel) => channel ?? 0x7f)),
  pinState: (pin: number, mode: number, state: number): Uint8Array =>
    sysex(FIRMATA.pinState, pin, mode, state & 0x7f, (state >> 7) & 0x7f),
  /** @param mask levels of the port's eight pins, lowest pin in bit 0 */
  digitalPort: (port: number, mask: number): Uint8Array =>
    Uint8Array.of(FIRMATA.digitalPort | port, mask & 0x7f, (mask >> 7) & 0x01),
  analog: (channel: number, level: number): Uint8Array =>
    Uint8Array.of(FIRMATA.analog | channel, level & 0x7f, (level >> 7) & 0x7f),
  text: (text: string): Uint8Array => sysex(FIRMATA.text, ...spread14(text)),
  identity: (identity: Identity): Uint8Array => encodeMessage(MESSAGES.IDENTITY, identity),
  sample: (sample: Sample): Uint8Array => encodeMessage(MESSAGES.SAMPLE, sample),
  motion: (motion: Motion): Uint8Array => encodeMessage(MESSAGES.MOTION, motion),
};
