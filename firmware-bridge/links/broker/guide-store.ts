/** What a relay keeps of its guides beside the sleeve's bytes: the highest number that was obeyed, and the latest checkpoint. */
import * as fs from 'node:fs';
import { join } from 'node:path';

export interface GuideStore {
  readonly epoch: number;
  readonly checkpoint: Uint8Array;
  /** On the disk when it returns, as far as the disk takes it: a number must not come again. */
  obey(epoch: number): void;
  /** In the system's hands when it returns. */
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

/** Whole or as before; a disk that takes nothing is said by the log of the bytes. */
function write(file: string, bytes: Uint8Array | string, flush: boolean): void {
  try {
    fs.writeFileSync(`${file}.new`, bytes, { flush, mode: 0o600 });
    fs.renameSync(`${file}.new`, file);
  } catch {
    // It stands in memory for as long as this process lives.
  }
}

/** @param folder  that of the sleeve's bytes; it is there */
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
      // A copy: it lies in a buffer of the broker's messages.
      checkpoint = Uint8Array.from(next);
      write(checkpointFile, checkpoint, false);
    },
  };
}
