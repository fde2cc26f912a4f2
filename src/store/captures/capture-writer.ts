import * as fs from 'node:fs';
import { gunzipSync, gzipSync } from 'node:zlib';
import {
  BLOCK_BYTES,
  COLUMNS_HEAD,
  isColumns,
  packBlock,
  unpackColumns,
} from '../../../firmware-bridge/links/capture-columns.ts';
import { codeOf } from '../../base/errors.ts';
import type { FeedSummary } from '../../feed/record/feed.ts';
import type { Disk } from '../disk.ts';
import { quietly, replaceFile, syncFolderOf, writeAll } from '../disk.ts';
import type { CaptureAppender } from './captures.ts';

const GZIP_BLOCK_BYTES = 4 * 1024 * 1024;

/** The sidecar beside a capture. It names the sleeve, never a person. */
export interface CaptureSidecar {
  version: 1;
  feedId: string;
  simulated: boolean;
  sleeveId: string;
  /** Version of the sleeve contract of the bytes; those of a version 1 sleeve conform to it too. */
  contractVersion: 2;
  softwareVersion: string;
  /** ISO times, UTC, by the host's clock. `sampleZeroAt`: wall time at device time 0 of the capture. */
  startedAt: string;
  sampleZeroAt: string;
  endedAt: string | null;
  calibration: unknown;
}

/** @returns the sidecar that goes beside the capture of `feed` */
export function sidecarOf(feed: FeedSummary, calibration: unknown, softwareVersion: string): CaptureSidecar {
  const isoTime = (wallTimeMs: number) => new Date(wallTimeMs).toISOString();
  return {
    version: 1,
    feedId: feed.id,
    simulated: feed.simulated,
    sleeveId: feed.sleeveId,
    contractVersion: 2,
    softwareVersion,
    startedAt: isoTime(feed.startedAtMs),
    sampleZeroAt: isoTime(feed.sampleZeroAtMs),
    endedAt: feed.endedAtMs === null ? null : isoTime(feed.endedAtMs),
    calibration: calibration ?? null,
  };
}

/** Writes a feed's bytes to disk exactly as received. */
export class CaptureWriter implements CaptureAppender {
  #fd: number;
  #length = 0;
  /** Number of bytes written since the last `settled`. */
  #unsettled = 0;
  /** False after an error: the file may be too long, and the handle may be invalid. */
  #sound = true;

  /**
   * Creates the file. An existing file is used only if it is empty (left by an earlier try).
   * @param from  continues a file at this length; bytes beyond it are written again
   * @throws Error of node:fs
   */
  constructor(
    private readonly path: string,
    private readonly disk: Disk = fs,
    from: number | null = null,
  ) {
    this.#fd =
      from === null
        ? openNewOrEmpty(path, disk)
        : disk.openSync(path, fs.constants.O_WRONLY | fs.constants.O_APPEND);
    this.#length = from ?? 0;
    try {
      if (from === null) syncFolderOf(path, disk);
      else disk.ftruncateSync(this.#fd, from);
    } catch (error) {
      this.close();
      throw error;
    }
  }

  /**
   * Appends `chunks`; durable on return. If that fails, the file keeps its old length. Until `settled` the next call passes the same bytes again,
   * and they are not written a second time.
   */
  append(chunks: readonly Uint8Array[]): void {
    if (!this.#sound) this.#mend();
    const before = this.#length;
    const bytes = Buffer.concat(chunks).subarray(this.#unsettled);
    if (bytes.length === 0) return;
    try {
      writeAll(this.disk, this.#fd, bytes);
      this.disk.fsyncSync(this.#fd);
    } catch (error) {
      // After a failed sync everything is written again, since the system may have dropped it.
      this.#sound = false;
      quietly(() => this.#mend());
      throw error;
    }
    this.#length = before + bytes.length;
    this.#unsettled += bytes.length;
  }

  keep(chunks: readonly Uint8Array[], keepRows: () => void): void {
    this.append(chunks);
    keepRows();
    this.settled();
  }

  /** Everything handed in is stored, in the database too. */
  settled(): void {
    this.#unsettled = 0;
  }

  /** Everything appended is on disk already, so an error here loses nothing. */
  close(): void {
    if (!this.#sound) quietly(() => this.#mend());
    quietly(() => this.disk.closeSync(this.#fd));
  }

  #mend(): void {
    try {
      this.disk.ftruncateSync(this.#fd, this.#length);
    } catch {
      this.#reopen();
    }
    this.#sound = true;
  }

  /** After a disk was unplugged, or a network share was disconnected, the old handle is invalid. */
  #reopen(): void {
    const { disk } = this;
    const fd = disk.openSync(this.path, fs.constants.O_WRONLY | fs.constants.O_APPEND);
    try {
      const { size } = disk.fstatSync(fd);
      this.#unsettled = Math.max(0, this.#unsettled - Math.max(0, this.#length - size));
      this.#length = Math.min(this.#length, size);
      disk.ftruncateSync(fd, this.#length);
    } catch (error) {
      quietly(() => disk.closeSync(fd));
      throw error;
    }
    quietly(() => disk.closeSync(this.#fd));
    this.#fd = fd;
  }
}

/** Append mode: after a truncate the next bytes are still written at the end. */
function openNewOrEmpty(path: string, disk: Disk): number {
  try {
    return disk.openSync(path, 'ax', 0o600);
  } catch (error) {
    if (codeOf(error) !== 'EEXIST') throw error;
    const fd = disk.openSync(path, fs.constants.O_WRONLY | fs.constants.O_APPEND);
    try {
      if (disk.fstatSync(fd).size > 0) throw error;
      return fd;
    } catch (refusal) {
      quietly(() => disk.closeSync(fd));
      throw refusal;
    }
  }
}

/**
 * Packs a raw capture into `packedPath`, which appears completely or not at all; the raw one stays.
 * @param pack  packs each block of `blockBytes`
 * @throws Error of node:fs
 */
function packFile(
  rawPath: string,
  packedPath: string,
  disk: Disk,
  head: Uint8Array,
  blockBytes: number,
  pack: (block: Uint8Array) => Uint8Array,
): void {
  const from = fs.openSync(rawPath, 'r');
  try {
    replaceFile(disk, packedPath, (to) => {
      writeAll(disk, to, head);
      const block = Buffer.allocUnsafe(blockBytes);
      for (;;) {
        const length = fs.readSync(from, block, 0, block.length, null);
        if (length === 0) break;
        writeAll(disk, to, pack(block.subarray(0, length)));
      }
    });
  } finally {
    fs.closeSync(from);
  }
}

/** Repacks by column: see firmware-bridge/links/capture-columns.ts. @throws Error of node:fs */
export const packByColumn = (rawPath: string, columnsPath: string, disk: Disk = fs): void =>
  packFile(rawPath, columnsPath, disk, COLUMNS_HEAD, BLOCK_BYTES, packBlock);

/** Packs as gzip; RFC 1952 allows several members; an empty first one makes the file valid even for an empty capture. */
export const packAsGzip = (rawPath: string, gzPath: string, disk: Disk = fs): void =>
  packFile(rawPath, gzPath, disk, gzipSync(''), GZIP_BLOCK_BYTES, (block) => gzipSync(block));

/** Reads both files again and compares byte by byte. @throws Error of node:fs */
export function isSameCapture(rawPath: string, packedPath: string): boolean {
  const packed = fs.readFileSync(packedPath);
  try {
    const unpacked = isColumns(packed) ? unpackColumns(packed).bytes : gunzipSync(packed);
    return fs.readFileSync(rawPath).equals(unpacked);
  } catch {
    // A file that cannot be unpacked is not the same.
    return false;
  }
}

/** Writes the sidecar beside a capture, completely or not at all. @throws Error of node:fs */
export function writeSidecarFile(path: string, sidecar: CaptureSidecar, disk: Disk = fs): void {
  replaceFile(disk, path, (fd) => writeAll(disk, fd, sidecarBytes(sidecar)));
}

/** @returns the bytes of the sidecar file */
export const sidecarBytes = (sidecar: CaptureSidecar): Buffer =>
  Buffer.from(`${JSON.stringify(sidecar, null, 2)}\n`);
