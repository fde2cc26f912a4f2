/** Makes the protocol page from the message table. Pure; generate.ts writes it to disk. */
import { frameLength } from './codec.ts';
import { FIELD_TYPES } from './cursor.ts';
import type { FieldSpec, MessageSpec } from './message-spec.ts';
import { bodyLength, CONTRACT_VERSION, CRC_BYTES, MESSAGES } from './messages.ts';

/** Fields with their offsets `at` in the unpacked body, bytes; used for the page and the C header. */
function fieldPlaces(message: MessageSpec): { at: number; field: FieldSpec }[] {
  let at = 0;
  return message.fields.map((field) => {
    const place = { at, field };
    at += FIELD_TYPES[field.type].bytes * (field.count ?? 1);
    return place;
  });
}

const hexByte = (byte: number): string => `0x${byte.toString(16).padStart(2, '0').toUpperCase()}`;
type Row = (string | number)[];

/** A Markdown table with padded columns, as the formatter requires. */
function table(head: string[], rows: Row[]): string[] {
  const cells = [head, ...rows].map((row) => row.map(String));
  const widths = head.map((_, column) => Math.max(...cells.map((row) => row[column]!.length)));
  const lines = [cells[0]!, widths.map((width) => '-'.repeat(width)), ...cells.slice(1)];
  return lines.map((row) => `| ${row.map((cell, column) => cell.padEnd(widths[column]!)).join(' | ')} |`);
}

const DIRECTIONS = { 'sleeve-to-host': 'sleeve → host', 'host-to-sleeve': 'host → sleeve' } as const;

function overviewRow(message: MessageSpec): Row {
  const direction = DIRECTIONS[message.direction] + (message.asked ? ', when asked' : '');
  return [hexByte(message.id), message.name, direction, frameLength(message)];
}

function section(message: MessageSpec): string[] {
  const rows: Row[] = fieldPlaces(message).map(({ at, field }) => [
    at,
    field.type + (field.count ? ` ×${field.count}` : ''),
    `\`${field.name}\``,
    field.unit,
    field.meaning,
  ]);
  rows.push([bodyLength(message), 'u16', 'checksum', '', 'CRC-16 of all body bytes before it']);
  const bits = message.fields.flatMap((field) =>
    (field.bits ?? []).map((bit, place): Row => [place, `\`${bit.name}\``, bit.meaning]),
  );
  return [
    `## ${hexByte(message.id)} ${message.name}`,
    '',
    `${DIRECTIONS[message.direction]}. ${message.meaning}`,
    ...(message.asked
      ? [
          `The host asks with \`F0 ${hexByte(message.id).slice(2)} F7\`; a sleeve also takes a body that is only a checksum.`,
        ]
      : []),
    '',
    ...table(['offset', 'type', 'field', 'unit', 'meaning'], rows),
    '',
    ...(bits.length > 0 ? [...table(['bit', 'name', 'set when'], bits), ''] : []),
  ];
}

/** @returns the whole page, Markdown. */
export function protocolPage(): string {
  const messages: MessageSpec[] = Object.values(MESSAGES);
  const sampleBody = bodyLength(MESSAGES.SAMPLE) + CRC_BYTES;
  return [
    '<!-- Generated from firmware-bridge/wire/messages.ts by `npm run gen`. Do not edit. -->',
    '# What passes between the sleeve and the host',
    '',
    `Sleeve contract, version ${CONTRACT_VERSION}. 115200 baud, 8N1. Every message below is a Firmata user message:`,
    '',
    '    F0 <command> <body, 7 bits to a byte> F7',
    '',
    'Ordinary Firmata messages go over the same line, so that a general Firmata host can drive the light and read the button.',
    'Whoever does not know a command passes it over. Commands 0x07 to 0x0F are free.',
    '',
    '- A body is little-endian bytes. Its bits, least significant first, are cut into sevens, one to a byte on the line; the last is filled with zeros.',
    `  A sample's ${sampleBody} bytes become ${frameLength(MESSAGES.SAMPLE) - 3}.`,
    '- Its last two bytes are CRC-16/CCITT-FALSE (polynomial 0x1021, initial value 0xFFFF, not reflected, no final xor; 0x29B1 for "123456789")',
    '  over all body bytes before them.',
    '- A receiver never trusts a length. At each `F0 <command>` it looks for a whole message with a right checksum; on any fault it moves on by one',
    '  byte and looks again. Nothing rejected is used.',
    '',
    ...table(['command', 'message', 'direction', 'bytes on the line'], messages.map(overviewRow)),
    '',
    "Types: `u` unsigned, `i` signed (two's complement), and the number of bits.",
    '',
    ...messages.flatMap(section),
  ]
    .join('\n')
    .trimEnd()
    .concat('\n');
}
