import * as fs from 'node:fs';
import { dirname } from 'node:path';

/** The calls of node:fs that write to a disk; passed in so that tests can simulate a failing disk. */
export type Disk = Pick<
  typeof fs,
  | 'mkdirSync'
  | 'openSync'
  | 'closeSync'
  | 'writeSync'
  | 'fsyncSync'
  | 'fstatSync'
  | 'ftruncateSync'
  | 'renameSync'
  | 'rmSync'
  | 'readFileSync'
>;

/** Writes all of `bytes`; one system call may take only a part of them. */
export function writeAll(disk: Disk, fd: number, bytes: Uint8Array): void {
  for (let written = 0; written < bytes.length; ) {
    const count = disk.writeSync(fd, bytes, written, bytes.length - written);
    if (count === 0) throw Object.assign(new Error('the disk took nothing'), { code: 'EIO', errno: -5 });
    written += count;
  }
}

/** For clean-up after an error: a second error is ignored, so that the first one is reported. */
export function quietly(action: () => void): void {
  try {
    action();
  } catch {
    // The next try finds what was left.
  }
}

/** Makes a file's name durable, as fsync does for its content. Windows has no such call and does not need it. */
export function syncFolderOf(path: string, disk: Disk = fs): void {
  if (process.platform === 'win32') return;
  const fd = disk.openSync(dirname(path), 'r');
  try {
    disk.fsyncSync(fd);
  } finally {
    quietly(() => disk.closeSync(fd));
  }
}

/** Replaces `path` completely, or leaves it unchanged: `fill` writes a temporary file, which is synced and then renamed. */
export function replaceFile(disk: Disk, path: string, fill: (fd: number) => void): void {
  const temporary = `${path}.tmp`;
  const fd = disk.openSync(temporary, 'w', 0o600);
  try {
    try {
      fill(fd);
      disk.fsyncSync(fd);
    } finally {
      quietly(() => disk.closeSync(fd));
    }
    disk.renameSync(temporary, path);
  } catch (error) {
    quietly(() => disk.rmSync(temporary, { force: true }));
    throw error;
  }
  syncFolderOf(path, disk);
}
