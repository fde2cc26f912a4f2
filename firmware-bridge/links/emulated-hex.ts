/** Reads Intel HEX, the file format for writing a program to the chip. */
import { PlainError } from '../../src/base/errors.ts';

/** Bytes of program memory of an ATmega328P. */
const FLASH_BYTES = 32 * 1024;

/**
 * @returns the chip's program memory, 16-bit words, erased (0xFFFF) where the file has no data
 * @throws PlainError when a line is damaged or the program does not fit
 */
export function readIntelHex(text: string): Uint16Array {
  const bytes = new Uint8Array(FLASH_BYTES).fill(0xff);
  const lines = text.split(/\r?\n/).filter((line) => line !== '');
  lines.forEach((line, index) => {
    if (!/^:([0-9A-Fa-f]{2}){5,}$/.test(line)) throw damaged(index);
    const record = Uint8Array.from(Buffer.from(line.slice(1), 'hex'));
    const count = record[0]!;
    const sum = record.reduce((total, byte) => total + byte, 0);
    if (record.length !== count + 5 || (sum & 0xff) !== 0) throw damaged(index);
    if (record[3] !== 0) return;
    const address = (record[1]! << 8) | record[2]!;
    if (address + count > FLASH_BYTES) throw damaged(index);
    bytes.set(record.subarray(4, 4 + count), address);
  });
  if (!lines.at(-1)?.startsWith(':00000001')) throw damaged(lines.length);
  return new Uint16Array(bytes.buffer);
}

const damaged = (index: number): PlainError =>
  new PlainError(
    'firmware-hex',
    `The sleeve's program is damaged at line ${index + 1}.`,
    'Build it anew (npm run firmware), or fetch the project again.',
  );
