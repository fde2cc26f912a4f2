/** Reads and writes little-endian numbers one after another. */

export type FieldType = 'u8' | 'u16' | 'u32' | 'i16' | 'i24';

/** Width in bytes and range of each number type. */
export const FIELD_TYPES: Record<FieldType, { bytes: number; min: number; max: number }> = {
  u8: { bytes: 1, min: 0, max: 0xff },
  u16: { bytes: 2, min: 0, max: 0xffff },
  u32: { bytes: 4, min: 0, max: 0xffffffff },
  i16: { bytes: 2, min: -0x8000, max: 0x7fff },
  i24: { bytes: 3, min: -0x800000, max: 0x7fffff },
};

/** A position in an array of bytes that moves on with each number read or written. */
export class ByteCursor {
  offset = 0;
  constructor(readonly bytes: Uint8Array) {}

  /** @throws RangeError past the end */
  read(type: FieldType): number {
    const { bytes: width, min, max } = FIELD_TYPES[type];
    this.#claim(width);
    let number = 0;
    for (let i = 0; i < width; i++) number += this.bytes[this.offset + i]! * 2 ** (8 * i);
    this.offset += width;
    return min < 0 && number > max ? number - 2 ** (8 * width) : number;
  }

  /** @throws RangeError past the end, or when `number` is not a whole number in the type's range */
  write(type: FieldType, number: number): void {
    const { bytes: width, min, max } = FIELD_TYPES[type];
    this.#claim(width);
    if (!Number.isInteger(number) || number < min || number > max) {
      throw new RangeError(`expected a whole number from ${min} to ${max} for ${type}, found ${number}`);
    }
    const unsigned = number < 0 ? number + 2 ** (8 * width) : number;
    for (let i = 0; i < width; i++) this.bytes[this.offset + i] = Math.floor(unsigned / 2 ** (8 * i)) & 0xff;
    this.offset += width;
  }

  #claim(width: number): void {
    if (this.offset + width > this.bytes.length) {
      throw new RangeError(
        `expected ${width} bytes at offset ${this.offset}, found ${this.bytes.length - this.offset}`,
      );
    }
  }
}
