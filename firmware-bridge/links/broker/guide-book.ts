/** What a relay keeps of its guides beside the sleeve's bytes: the highest number that was obeyed, and the latest note. */
import * as fs from 'node:fs';
import { join } from 'node:path';

export interface GuideBook {
  readonly epoch: number;
  readonly note: Uint8Array;
  /** On the disk when it returns, as far as the disk takes it: a number must not come again. */
  obey(epoch: number): void;
  /** In the system's hands when it returns. */
  keep(note: Uint8Array): void;
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
export function openGuideBook(folder: string): GuideBook {
  const [epochFile, noteFile] = [join(folder, 'epoch'), join(folder, 'note')];
  let epoch = Number.parseInt(Buffer.from(read(epochFile)).toString('utf8'), 10) || 0;
  let note = read(noteFile);
  return {
    get epoch() {
      return epoch;
    },
    get note() {
      return note;
    },
    obey(next) {
      if (next <= epoch) return;
      epoch = next;
      write(epochFile, `${next}\n`, true);
    },
    keep(next) {
      // A copy: it lies in a buffer of the broker's messages.
      note = Uint8Array.from(next);
      write(noteFile, note, false);
    },
  };
}
