/** The message table as a C header for the firmware: ids, lengths, and bodies with the layout of the wire. */
import { frameLength } from './codec.ts';
import type { FieldType } from './cursor.ts';
import type { FieldSpec } from './message-spec.ts';
import { bodyLength, CONTRACT_VERSION, CRC_BYTES, MESSAGES } from './messages.ts';

const C_TYPES: Record<FieldType, string> = {
  u8: 'uint8_t',
  u16: 'uint16_t',
  u32: 'uint32_t',
  i16: 'int16_t',
  i24: 'wire_i24',
};

/** @returns `camelCase` as `snake_case`. */
const snakeCase = (name: string): string => name.replace(/[A-Z]/g, (capital) => `_${capital.toLowerCase()}`);

/** @returns text of hardware/firmware/messages.h */
export function messageHeader(): string {
  return `/* Generated from firmware-bridge/wire/messages.ts by "npm run gen"; do not edit. */
#ifndef EBBLINE_MESSAGES_H
#define EBBLINE_MESSAGES_H

#include <stdint.h>

/*
 * The sleeve's own messages (sleeve contract, section 2): F0, command, body with checksum packed 7 bits to a byte, F7.
 * Bodies are little-endian without gaps, as the chip itself lays them out.
 */
#define CONTRACT_VERSION ${CONTRACT_VERSION}
#define CRC_BYTES ${CRC_BYTES}

/* A signed 24-bit number, lowest byte first. */
typedef struct {
    uint8_t byte[3];
} wire_i24;

${Object.values(MESSAGES).map(messageText).join('\n')}
#endif
`;
}

function messageText(message: (typeof MESSAGES)[keyof typeof MESSAGES]): string {
  const { name, meaning } = message;
  const type = `${name.toLowerCase()}_body`;
  const fields: readonly FieldSpec[] = message.fields;
  return [
    `/* ${meaning} */`,
    `#define ${name}_ID ${hexByte(message.id)}`,
    `#define ${name}_BODY_BYTES ${bodyLength(message)}`,
    `#define ${name}_FRAME_BYTES ${frameLength(message)}`,
    'typedef struct __attribute__((packed)) {',
    ...fields.map(fieldText),
    `} ${type};`,
    `_Static_assert(sizeof(${type}) == ${name}_BODY_BYTES, "${type} must have no gaps");`,
    ...fields.flatMap((field) => bitTexts(name, field)),
    '',
  ].join('\n');
}

function fieldText({ name, type, count, unit, meaning }: FieldSpec): string {
  const declared = `    ${C_TYPES[type]} ${snakeCase(name)}${count === undefined ? '' : `[${count}]`};`;
  return `${declared} /* ${unit === '' ? '' : `${unit}: `}${meaning} */`;
}

function bitTexts(message: string, { bits = [] }: FieldSpec): string[] {
  return bits.map(
    ({ name, meaning }, place) =>
      `#define ${message}_${snakeCase(name).toUpperCase()} ${hexByte(1 << place)} /* ${meaning} */`,
  );
}

const hexByte = (byte: number): string => `0x${byte.toString(16).padStart(2, '0')}`;
