import * as fs from 'node:fs';
import { dirname } from 'node:path';

/** The calls that put bytes on a disk, as node:fs has them; handed in so that a failing disk can be tried out. */
export type Disk = Pick<typeof fs, 'writeSync' | 'fsyncSync' | 'ftruncateSync' | 'renameSync'>;

/** Writes all of `bytes`; one system call may take only a part of them. */
export function writeAll(disk: Disk, fd: number, bytes: Uint8Array): void {
  for (let written = 0; written < bytes.length; ) {
    written += disk.writeSync(fd, bytes, written, bytes.length - written);
  }
}

/** Makes a file's name durable: what fsync does for its content. Windows knows no such call, and needs none. */
export function syncFolderOf(path: string): void {
  if (process.platform === 'win32') return;
  const fd = fs.openSync(dirname(path), 'r');
  try {
    fs.fsyncSync(fd);
  } finally {
    fs.closeSync(fd);
  }
}

/** Replaces `path` as a whole, or leaves it as it was: `fill` writes a temporary file, which is synced and then renamed. */
export function replaceFile(disk: Disk, path: string, fill: (fd: number) => void): void {
  const temporary = `${path}.tmp`;
  const fd = fs.openSync(temporary, 'w');
  try {
    fill(fd);
    disk.fsyncSync(fd);
  } catch (error) {
    fs.closeSync(fd);
    fs.rmSync(temporary, { force: true });
    throw error;
  }
  fs.closeSync(fd);
  disk.renameSync(temporary, path);
  syncFolderOf(path);
}
