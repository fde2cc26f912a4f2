/**
 * Writes and reads tar files: IEEE Std 1003.1 (POSIX), "ustar Interchange Format", with sizes beyond 8 GiB in base 256 as GNU tar
 * writes them. Any tar program opens it. Only files, no folders, links or owners.
 */
import { createHash } from 'node:crypto';
import * as fs from 'node:fs';
import { writeAll } from '../disk.ts';

const BLOCK = 512;
const COPY_BYTES = 1 << 20;
const LARGEST_OCTAL = 8 ** 11 - 1;
const NAME_BYTES = 100;
const SIZE_AT = 124;
const SUM_AT = 148;

/** Writes a tar file. Errors are those of node:fs. */
export class TarWriter {
  readonly #fd: number;
  /** SHA-256 of each file so far, by name, in order. */
  readonly sums = new Map<string, string>();

  constructor(path: string) {
    this.#fd = fs.openSync(path, 'wx', 0o600);
  }

  addBytes(name: string, bytes: Uint8Array, atMs: number): void {
    this.sums.set(name, createHash('sha256').update(bytes).digest('hex'));
    writeAll(fs, this.#fd, headerOf(name, bytes.length, atMs));
    writeAll(fs, this.#fd, bytes);
    this.#pad(bytes.length);
  }

  /** Adds the file at `path`, with its present length; bytes appended meanwhile are left out. */
  addFile(name: string, path: string): void {
    const from = fs.openSync(path, 'r');
    try {
      const { size, mtimeMs } = fs.fstatSync(from);
      writeAll(fs, this.#fd, headerOf(name, size, mtimeMs));
      const hash = createHash('sha256');
      const block = Buffer.allocUnsafe(COPY_BYTES);
      for (let left = size; left > 0; ) {
        const length = fs.readSync(from, block, 0, Math.min(left, block.length), null);
        if (length === 0) throw new Error(`${path} became shorter while it was read`);
        hash.update(block.subarray(0, length));
        writeAll(fs, this.#fd, block.subarray(0, length));
        left -= length;
      }
      this.#pad(size);
      this.sums.set(name, hash.digest('hex'));
    } finally {
      fs.closeSync(from);
    }
  }

  /** Durable on return. */
  finish(): void {
    writeAll(fs, this.#fd, new Uint8Array(2 * BLOCK));
    fs.fsyncSync(this.#fd);
  }

  close(): void {
    fs.closeSync(this.#fd);
  }

  #pad(size: number): void {
    const rest = size % BLOCK;
    if (rest > 0) writeAll(fs, this.#fd, new Uint8Array(BLOCK - rest));
  }
}

/** The header of one file. */
export function headerOf(name: string, size: number, atMs: number): Buffer {
  if (Buffer.byteLength(name) > NAME_BYTES) throw new RangeError(`too long a name for tar: ${name}`);
  const header = Buffer.alloc(BLOCK);
  const octal = (number: number, at: number, width: number): void => {
    header.write(`${number.toString(8).padStart(width - 1, '0')}\0`, at, 'latin1');
  };
  header.write(name, 0);
  octal(0o600, 100, 8);
  octal(0, 108, 8);
  octal(0, 116, 8);
  if (size <= LARGEST_OCTAL) octal(size, SIZE_AT, 12);
  else {
    header[SIZE_AT] = 0x80;
    header.writeBigUInt64BE(BigInt(size), SIZE_AT + 4);
  }
  octal(Math.max(0, Math.floor(atMs / 1000)), 136, 12);
  header.write('0', 156, 'latin1');
  header.write('ustar\0', 257, 'latin1');
  header.write('00', 263, 'latin1');
  header.write(`${sumOf(header).toString(8).padStart(6, '0')}\0 `, SUM_AT, 'latin1');
  return header;
}

/** Sum of the header's bytes, the bytes of the sum itself counted as spaces. */
const sumOf = (header: Uint8Array): number =>
  header.reduce((sum, byte, i) => sum + (i >= SUM_AT && i < SUM_AT + 8 ? 0x20 : byte), 0);

export interface TarFile {
  name: string;
  sha256: string;
}

/**
 * Unpacks the files of a tar file one by one.
 * @param placeOf  target path of a file by its name; null if such a file is not allowed
 * @throws RangeError when it is no tar file, is cut short, or `placeOf` gave null
 */
export function* unpackTar(path: string, placeOf: (name: string) => string | null): Generator<TarFile> {
  const fd = fs.openSync(path, 'r');
  try {
    const header = Buffer.alloc(BLOCK);
    for (;;) {
      readWhole(fd, header);
      if (header.every((byte) => byte === 0)) return;
      const name = header.subarray(0, NAME_BYTES).toString().replace(/\0.*$/s, '');
      const sum = Number.parseInt(header.subarray(SUM_AT, SUM_AT + 8).toString('latin1'), 8);
      if (sum !== sumOf(header)) throw new RangeError('is no tar file, or is damaged');
      const kind = header.toString('latin1', 156, 157);
      const place = kind === '0' || kind === '\0' ? placeOf(name) : null;
      if (place === null) throw new RangeError(`holds ${JSON.stringify(name)}, which has no business there`);
      yield { name, sha256: copyOut(fd, sizeIn(header), place) };
    }
  } finally {
    fs.closeSync(fd);
  }
}

/** @returns the file size in a header */
export function sizeIn(header: Buffer): number {
  if (header[SIZE_AT]! & 0x80) return Number(header.readBigUInt64BE(SIZE_AT + 4));
  return Number.parseInt(header.subarray(SIZE_AT, SIZE_AT + 12).toString('latin1'), 8);
}

function copyOut(fd: number, size: number, place: string): string {
  const to = fs.openSync(place, 'wx', 0o600);
  try {
    const hash = createHash('sha256');
    const block = Buffer.allocUnsafe(COPY_BYTES);
    for (let left = size; left > 0; ) {
      const part = block.subarray(0, Math.min(left, block.length));
      readWhole(fd, part);
      hash.update(part);
      writeAll(fs, to, part);
      left -= part.length;
    }
    fs.fsyncSync(to);
    readWhole(fd, Buffer.alloc((BLOCK - (size % BLOCK)) % BLOCK));
    return hash.digest('hex');
  } finally {
    fs.closeSync(to);
  }
}

function readWhole(fd: number, target: Buffer): void {
  for (let filled = 0; filled < target.length; ) {
    const length = fs.readSync(fd, target, filled, target.length - filled, null);
    if (length === 0) throw new RangeError('is cut short');
    filled += length;
  }
}
