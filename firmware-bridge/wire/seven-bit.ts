/**
 * Bodies are sent as 7-bit bytes, because within a Firmata message only command bytes have their high bit set.
 * The body's bits, least significant first, are cut into groups of seven; the last group is filled with zeros.
 */

/** @returns number of 7-bit bytes for `byteCount` bytes. */
export const packedLength = (byteCount: number): number => Math.ceil((byteCount * 8) / 7);

/** @returns `bytes` packed 7 bits to a byte. */
export function pack7(bytes: Uint8Array): Uint8Array {
  const packed = new Uint8Array(packedLength(bytes.length));
  let pending = 0;
  let pendingBits = 0;
  let out = 0;
  for (const byte of bytes) {
    pending |= byte << pendingBits;
    pendingBits += 8;
    while (pendingBits >= 7) {
      packed[out++] = pending & 0x7f;
      pending >>= 7;
      pendingBits -= 7;
    }
  }
  if (pendingBits > 0) packed[out] = pending;
  return packed;
}

/**
 * Unpacks as many bytes as `target` holds, reading `packed` from `start`. The fill bits are ignored.
 * The caller makes sure that `packed` is long enough (`packedLength`).
 */
export function unpack7Into(target: Uint8Array, packed: Uint8Array, start = 0): void {
  let pending = 0;
  let pendingBits = 0;
  let from = start;
  for (let i = 0; i < target.length; i++) {
    while (pendingBits < 8) {
      pending |= (packed[from++]! & 0x7f) << pendingBits;
      pendingBits += 7;
    }
    target[i] = pending & 0xff;
    pending >>= 8;
    pendingBits -= 8;
  }
}
