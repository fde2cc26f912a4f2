/** What a relay stores about its guides beside the sleeve's bytes: the highest number obeyed, and the latest checkpoint. */
import * as fs from 'node:fs';
import { join } from 'node:path';

export interface GuideStore {
  readonly epoch: number;
  readonly checkpoint: Uint8Array;
  /** On disk when it returns, if the disk can be written: a number must not be used again. */
  obey(epoch: number): void;
  /** Passed to the operating system when it returns. A power cut or a full disk may damage it: then the next guide reads the relay's bytes again. */
  keep(checkpoint: Uint8Array): void;
  close(): void;
}

const NOTHING = new Uint8Array(0);

function read(file: string): Uint8Array {
  try {
    return fs.readFileSync(file);
  } catch {
    return NOTHING;
  }
}

/** Does it if the disk can be written: its errors are reported by the byte log, and this process still has all of it in memory. */
function ifPossible(act: () => void): void {
  try {
    act();
  } catch {
    // As said above.
  }
}

/** On disk when it returns: all of it or nothing. */
function replace(file: string, text: string): void {
  fs.writeFileSync(`${file}.new`, text, { flush: true, mode: 0o600 });
  fs.renameSync(`${file}.new`, file);
}

/** Some 50 kB every few seconds: written in place, since a file system that replaces a file waits for its bytes, and the sleeve's bytes wait too. */
function writtenInPlace(path: string) {
  let file: number | null = null;
  return {
    write(bytes: Uint8Array): void {
      file ??= fs.openSync(path, fs.constants.O_RDWR | fs.constants.O_CREAT, 0o600);
      for (let at = 0; at < bytes.length; ) at += fs.writeSync(file, bytes, at, bytes.length - at, at);
      fs.ftruncateSync(file, bytes.length);
    },
    close(): void {
      if (file !== null) fs.closeSync(file);
      file = null;
    },
  };
}

/** @param folder  of the sleeve's bytes; it exists */
export function openGuideStore(folder: string): GuideStore {
  const [epochFile, checkpointFile] = [join(folder, 'epoch'), join(folder, 'note')];
  let epoch = Number.parseInt(Buffer.from(read(epochFile)).toString('utf8'), 10) || 0;
  let checkpoint = read(checkpointFile);
  const checkpoints = writtenInPlace(checkpointFile);
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
      ifPossible(() => replace(epochFile, `${next}\n`));
    },
    keep(next) {
      // A copy: the original lies in a buffer of the broker library.
      checkpoint = Uint8Array.from(next);
      ifPossible(() => checkpoints.write(checkpoint));
    },
    close: () => ifPossible(() => checkpoints.close()),
  };
}
