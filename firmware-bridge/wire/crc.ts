/**
 * CRC-16/CCITT-FALSE, also catalogued as CRC-16/IBM-3740: polynomial 0x1021, initial value 0xFFFF,
 * not reflected, no final xor (sleeve contract, section 2).
 */

const POLYNOMIAL = 0x1021;
const CRC16_INITIAL = 0xffff;

const TABLE = Uint16Array.from({ length: 256 }, (_, byte) => {
  let crc = byte << 8;
  for (let bit = 0; bit < 8; bit++) crc = crc & 0x8000 ? (crc << 1) ^ POLYNOMIAL : crc << 1;
  return crc & 0xffff;
});

/** @returns checksum of `bytes[start..end)`, 0 to 0xFFFF; of no bytes it is `CRC16_INITIAL`. */
export function crc16(bytes: Uint8Array, start = 0, end = bytes.length): number {
  let crc = CRC16_INITIAL;
  for (let i = start; i < end; i++) crc = ((crc << 8) & 0xffff) ^ TABLE[(crc >> 8) ^ bytes[i]!]!;
  return crc;
}
