import * as fs from 'node:fs';
import { writeAll } from '../disk.ts';

const WRITE_AT_ONCE = 1 << 20;

/** A new file, written a piece at a time; only its owner may read it. Errors are those of node:fs. */
export class OutFile {
  #fd: number | null;
  #waiting: Buffer[] = [];
  #waitingBytes = 0;

  constructor(path: string) {
    this.#fd = fs.openSync(path, 'wx', 0o600);
  }

  write(part: string | Uint8Array): void {
    const bytes = typeof part === 'string' ? Buffer.from(part) : Buffer.from(part);
    this.#waiting.push(bytes);
    this.#waitingBytes += bytes.length;
    if (this.#waitingBytes >= WRITE_AT_ONCE) this.#flush();
  }

  /** Durable on return. */
  finish(): void {
    this.#flush();
    fs.fsyncSync(this.#fd!);
    this.close();
  }

  close(): void {
    if (this.#fd !== null) fs.closeSync(this.#fd);
    this.#fd = null;
  }

  #flush(): void {
    writeAll(fs, this.#fd!, Buffer.concat(this.#waiting));
    this.#waiting = [];
    this.#waitingBytes = 0;
  }
}
