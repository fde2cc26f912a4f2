import { join } from 'node:path';
import Libsql from 'libsql';
import { PlainError } from '../../base/errors.ts';
import { plainly } from '../faults.ts';

/**
 * Makes this process the only one that records into `folder`, until the returned function is called or the process ends in
 * any way: it is a lock of the operating system on an empty SQLite file, so none can be left behind.
 * @throws PlainError store-recording when another process records there
 */
export function takeRecordingLock(folder: string): () => void {
  const file = join(folder, 'recording.lock');
  const lock = plainly(file, () => new Libsql(file));
  try {
    plainly(file, () => lock.exec('PRAGMA busy_timeout = 0; BEGIN EXCLUSIVE'));
  } catch (cause) {
    lock.close();
    if (!(cause instanceof PlainError) || cause.code !== 'store-busy') throw cause;
    throw new PlainError(
      'store-recording',
      `Another Ebbline is recording feeds into ${folder}.`,
      'Stop that one first, or set EBBLINE_DATA to another folder for this one.',
      { cause },
    );
  }
  return () => lock.close();
}
