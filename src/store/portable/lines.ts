import * as fs from 'node:fs';
import { StringDecoder } from 'node:string_decoder';

const READ_BYTES = 1 << 20;
/** Longest line; a feed of a whole day has a tenth of this. */
const LONGEST_LINE = 256 * 1024 * 1024;

/** The lines of a UTF-8 file, one after another, without their ends. Only one line is in memory. @throws RangeError for a line that is too long */
export function* linesOf(path: string): Generator<string> {
  const fd = fs.openSync(path, 'r');
  try {
    const decoder = new StringDecoder('utf8');
    const block = Buffer.allocUnsafe(READ_BYTES);
    let parts: string[] = [];
    let held = 0;
    for (;;) {
      const length = fs.readSync(fd, block, 0, block.length, null);
      const text = length === 0 ? decoder.end() : decoder.write(block.subarray(0, length));
      const [first, ...rest] = text.split('\n');
      parts.push(first!);
      held += first!.length;
      if (held > LONGEST_LINE) throw new RangeError('a line is too long');
      for (const next of rest) {
        yield parts.join('').replace(/\r$/, '');
        parts = [next];
        held = next.length;
      }
      if (length === 0) break;
    }
    if (held > 0) yield parts.join('');
  } finally {
    fs.closeSync(fd);
  }
}
