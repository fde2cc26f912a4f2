/** Encoder and decoder of the sleeve's own messages, both driven by the table in messages.ts. */
import { crc16 } from './crc.ts';
import { ByteCursor } from './cursor.ts';
import type { MessageSpec, MessageValue } from './message-spec.ts';
import { bodyLength, CRC_BYTES } from './messages.ts';
import { pack7, packedLength, unpack7Into } from './seven-bit.ts';

export const MESSAGE_START = 0xf0;
export const MESSAGE_END = 0xf7;

/** @returns length of such a message on the line, bytes, including start and end byte. */
export const frameLength = (message: MessageSpec): number =>
  3 + packedLength(bodyLength(message) + CRC_BYTES);

/**
 * @returns the message as sent: F0, command, packed body with checksum, F7.
 * @throws RangeError when a number does not fit its field
 */
export function encodeMessage<M extends MessageSpec>(message: M, value: MessageValue<M>): Uint8Array {
  const body = new Uint8Array(bodyLength(message) + CRC_BYTES);
  const cursor = new ByteCursor(body);
  const numbers = value as Record<string, number | readonly number[]>;
  for (const field of message.fields) {
    const entry = numbers[field.name]!;
    const list = typeof entry === 'number' ? [entry] : entry;
    for (let i = 0; i < (field.count ?? 1); i++) cursor.write(field.type, list[i]!);
  }
  cursor.write('u16', crc16(body, 0, cursor.offset));
  return frame(message, pack7(body));
}

/** @returns the host's request for a message that it may ask for: the command with an empty body. */
export const encodeRequest = (message: MessageSpec & { asked: true }): Uint8Array =>
  frame(message, new Uint8Array(0));

function frame(message: MessageSpec, packed: Uint8Array): Uint8Array {
  const bytes = new Uint8Array(packed.length + 3);
  bytes[0] = MESSAGE_START;
  bytes[1] = message.id;
  bytes.set(packed, 2);
  bytes[bytes.length - 1] = MESSAGE_END;
  return bytes;
}

/**
 * @param bytes one whole message, F0 to F7
 * @returns its values; null if it is another message, or its length or checksum is wrong
 */
export function decodeMessage<M extends MessageSpec>(message: M, bytes: Uint8Array): MessageValue<M> | null {
  const last = bytes.length - 1;
  if (bytes.length !== frameLength(message)) return null;
  if (bytes[0] !== MESSAGE_START || bytes[1] !== message.id || bytes[last] !== MESSAGE_END) return null;
  for (let i = 2; i < last; i++) if (bytes[i]! > 0x7f) return null;
  const body = new Uint8Array(bodyLength(message) + CRC_BYTES);
  unpack7Into(body, bytes, 2);
  return decodeBody(message, body);
}

/**
 * @param body unpacked body with its checksum
 * @returns its values; null if the checksum is wrong
 */
export function decodeBody<M extends MessageSpec>(message: M, body: Uint8Array): MessageValue<M> | null {
  const cursor = new ByteCursor(body);
  const value: Record<string, number | number[]> = {};
  for (const { name, type, count } of message.fields) {
    value[name] =
      count === undefined ? cursor.read(type) : Array.from({ length: count }, () => cursor.read(type));
  }
  return cursor.read('u16') === crc16(body, 0, cursor.offset - CRC_BYTES) ? (value as MessageValue<M>) : null;
}
