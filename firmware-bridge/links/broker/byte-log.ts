/**
 * The last eight hours of a sleeve's bytes on disk. Bytes that cannot be written are still sent from memory, and counted; written bytes can be read
 * by their position. Each write is passed to the operating system at once, and synced to disk within a second.
 */
import * as fs from 'node:fs';
import { join } from 'node:path';
import { messageOf, PlainError } from '../../../src/base/errors.ts';
import {
  KEPT_BYTES,
  locate,
  nextStart,
  offsetIn,
  openSegment,
  type Segment,
  segmentName,
  spentSegments,
} from './segments.ts';

export interface ByteLog {
  /** Id of the log: 16 hexadecimal digits, unchanged as long as its folder exists. */
  readonly stream: string;
  /** Position of the next byte. */
  readonly end: number;
  /** Number of bytes that could not be written. */
  readonly unwritten: number;
  /** The disk's latest error as a sentence; null while writing works. */
  readonly trouble: string | null;
  append(bytes: Uint8Array): void;
  /** @returns the first bytes at or after `position`, at most `most`; null if there are none */
  read(position: number, most: number): { offset: number; bytes: Uint8Array } | null;
  /** To be called once a second. */
  sync(): void;
  close(): void;
}

export interface ByteLogOptions {
  /** Returns 16 hexadecimal digits for a new log. */
  newStream: () => string;
  keepBytes?: number;
  /** The file system; tests replace it by one that fails. */
  disk?: Pick<typeof fs, 'writeSync' | 'openSync'>;
}

/** The latest bytes are held in memory too, so that live sending does not read the disk: some 70 s. */
const TAIL_BYTES = 256 * 1024;
const MOST_AT_ONCE = 64 * 1024;

/** @throws PlainError relay-folder: the folder cannot be created, read or written */
export function openByteLog(folder: string, options: ByteLogOptions): ByteLog {
  try {
    fs.mkdirSync(folder, { recursive: true });
    return new DiskLog(folder, streamOf(folder, options.newStream), options);
  } catch (error) {
    if (error instanceof PlainError) throw error;
    throw new PlainError(
      'relay-folder',
      `The folder ${folder} cannot be used (${messageOf(error)}).`,
      'Make room on the disk, or see that you may write there.',
      { cause: error },
    );
  }
}

function streamOf(folder: string, newStream: () => string): string {
  const file = join(folder, 'stream');
  if (fs.existsSync(file)) {
    const kept = fs.readFileSync(file, 'utf8').trim();
    if (/^[0-9a-f]{16}$/.test(kept)) return kept;
  }
  // The id was lost in a power cut, so nobody can ask for the bytes of that log any more.
  for (const name of fs.readdirSync(folder)) if (offsetIn(name) !== null) fs.rmSync(join(folder, name));
  const stream = newStream();
  fs.writeFileSync(file, `${stream}\n`, { flush: true });
  return stream;
}

function segmentsIn(folder: string): Segment[] {
  return fs
    .readdirSync(folder)
    .flatMap((name) => {
      const offset = offsetIn(name);
      return offset === null ? [] : [{ offset, length: fs.statSync(join(folder, name)).size }];
    })
    .sort((one, other) => one.offset - other.offset);
}

class DiskLog implements ByteLog {
  readonly stream: string;
  end: number;
  unwritten = 0;
  trouble: string | null = null;
  readonly #folder: string;
  readonly #keepBytes: number;
  readonly #disk: Pick<typeof fs, 'writeSync' | 'openSync'>;
  readonly #segments: Segment[];
  #file: number | null = null;
  #tail: { offset: number; bytes: Uint8Array }[] = [];
  #tailBytes = 0;
  #isSyncing = false;
  #isDirty = false;

  constructor(folder: string, stream: string, { keepBytes = KEPT_BYTES, disk = fs }: ByteLogOptions) {
    this.#folder = folder;
    this.stream = stream;
    this.#keepBytes = keepBytes;
    this.#disk = disk;
    this.#segments = segmentsIn(folder);
    this.end = nextStart(this.#segments);
  }

  append(bytes: Uint8Array): void {
    for (let at = 0; at < bytes.length; at += MOST_AT_ONCE)
      this.#appendPart(bytes.subarray(at, at + MOST_AT_ONCE));
  }

  #appendPart(bytes: Uint8Array): void {
    this.#tail.push({ offset: this.end, bytes });
    this.#tailBytes += bytes.length;
    while (this.#tailBytes > TAIL_BYTES && this.#tail.length > 1)
      this.#tailBytes -= this.#tail.shift()!.bytes.length;
    this.unwritten += bytes.length;
    try {
      this.#write(bytes);
      this.trouble = null;
    } catch (error) {
      this.#letGo();
      this.#dropEmpty();
      this.trouble = refusal(this.#folder, error as NodeJS.ErrnoException);
    }
    this.end += bytes.length;
  }

  #write(bytes: Uint8Array): void {
    let segment = this.#file === null ? null : openSegment(this.#segments, this.end);
    if (segment === null) {
      this.#letGo();
      // The file's entry in the folder must not exist before its bytes can.
      segment = { offset: this.end, length: 0 };
      this.#file = this.#disk.openSync(join(this.#folder, segmentName(segment)), 'w');
      this.#segments.push(segment);
      for (const { offset } of this.#segments.splice(0, spentSegments(this.#segments, this.#keepBytes)))
        fs.rmSync(join(this.#folder, segmentName({ offset })), { force: true });
    }
    for (let at = 0; at < bytes.length; ) {
      const written = this.#disk.writeSync(this.#file!, bytes, at);
      at += written;
      segment.length += written;
      this.unwritten -= written;
      this.#isDirty = true;
    }
  }

  /** Removes a file that stayed empty because the disk was full. */
  #dropEmpty(): void {
    const last = this.#segments.at(-1);
    if (last?.length !== 0) return;
    this.#segments.pop();
    fs.rmSync(join(this.#folder, segmentName(last)), { force: true });
  }

  read(position: number, most: number): { offset: number; bytes: Uint8Array } | null {
    const first = this.#tail[0];
    if (first && position >= first.offset) return this.#readTail(position, most);
    const found = locate(this.#segments, position);
    if (found && (!first || found.segment.offset + found.at < first.offset)) {
      const bytes = this.#readFile(found.segment, found.at, most);
      if (bytes.length > 0) return { offset: found.segment.offset + found.at, bytes };
    }
    return first ? this.#readTail(first.offset, most) : null;
  }

  #readTail(position: number, most: number): { offset: number; bytes: Uint8Array } | null {
    const out: Uint8Array[] = [];
    let length = 0;
    // From the end: live sending wants the newest.
    const first = this.#tail.findLastIndex(({ offset, bytes }) => offset + bytes.length <= position) + 1;
    for (let i = first; i < this.#tail.length; i++) {
      const { offset, bytes } = this.#tail[i]!;
      const part = bytes.subarray(
        Math.max(0, position - offset),
        Math.max(0, position - offset) + most - length,
      );
      out.push(part);
      length += part.length;
      if (length >= most) break;
    }
    return length === 0 ? null : { offset: position, bytes: Buffer.concat(out) };
  }

  #readFile(segment: Segment, at: number, most: number): Uint8Array {
    const bytes = new Uint8Array(Math.min(most, segment.length - at));
    try {
      const file = fs.openSync(join(this.#folder, segmentName(segment)), 'r');
      try {
        return bytes.subarray(0, fs.readSync(file, bytes, 0, bytes.length, at));
      } finally {
        fs.closeSync(file);
      }
    } catch (error) {
      // The file was removed or the disk is gone; the log continues with the rest.
      this.trouble = refusal(this.#folder, error as NodeJS.ErrnoException);
      this.#segments.splice(this.#segments.indexOf(segment), 1);
      return new Uint8Array(0);
    }
  }

  sync(): void {
    if (this.#file === null || this.#isSyncing || !this.#isDirty) return;
    this.#isSyncing = true;
    this.#isDirty = false;
    const file = this.#file;
    fs.fdatasync(file, () => {
      this.#isSyncing = false;
      if (file !== this.#file) fs.close(file, () => {});
    });
  }

  /** Closes the file, after a running sync. */
  #letGo(): void {
    const file = this.#file;
    this.#file = null;
    if (file !== null && !this.#isSyncing) fs.closeSync(file);
  }

  close(): void {
    this.#letGo();
  }
}

function refusal(folder: string, error: NodeJS.ErrnoException): string {
  return error.code === 'ENOSPC' || error.code === 'EDQUOT'
    ? `The disk is full: the sleeve's bytes are passed on, but not kept in ${folder} for the time that the broker is away. Make room on it.`
    : `The disk does not take the sleeve's bytes into ${folder} (${error.message}); they are passed on, but not kept for the time that the broker is away.`;
}
