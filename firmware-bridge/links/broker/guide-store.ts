/** What a relay stores about its guides beside the sleeve's bytes: the highest number obeyed, and the latest checkpoint. */
import * as fs from 'node:fs';
import { join } from 'node:path';

export interface GuideStore {
  readonly epoch: number;
  readonly checkpoint: Uint8Array;
  /** On disk when it returns, if the disk can be written: a number must not be used again. */
  obey(epoch: number): void;
  /** Passed to the operating system when it returns. */
  keep(checkpoint: Uint8Array): void;
}

const NOTHING = new Uint8Array(0);

function read(file: string): Uint8Array {
  try {
    return fs.readFileSync(file);
  } catch {
    return NOTHING;
  }
}

/** Writes all of it or nothing; a disk error is reported by the byte log. */
function write(file: string, bytes: Uint8Array | string, flush: boolean): void {
  try {
    fs.writeFileSync(`${file}.new`, bytes, { flush, mode: 0o600 });
    fs.renameSync(`${file}.new`, file);
  } catch {
    // It stays in memory as long as this process lives.
  }
}

/** @param folder  of the sleeve's bytes; it exists */
export function openGuideStore(folder: string): GuideStore {
  const [epochFile, checkpointFile] = [join(folder, 'epoch'), join(folder, 'note')];
  let epoch = Number.parseInt(Buffer.from(read(epochFile)).toString('utf8'), 10) || 0;
  let checkpoint = read(checkpointFile);
  return {
    get epoch() {
      return epoch;
    },
    get checkpoint() {
      return checkpoint;
    },
    obey(next) {
      if (next <= epoch) return;
      epoch = next;
      write(epochFile, `${next}\n`, true);
    },
    keep(next) {
      // A copy: the original lies in a buffer of the broker library.
      checkpoint = Uint8Array.from(next);
      write(checkpointFile, checkpoint, false);
    },
  };
}
