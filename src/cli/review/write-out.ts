import { writeFileSync } from 'node:fs';
import { PlainError } from '../../base/errors.ts';

/** Writes a file and says where. @param replace  whether a file that is there may go @throws PlainError out-exists, graph-unwritable */
export function writeOut(path: string, content: string | Uint8Array, replace = false): void {
  try {
    // Only its owner may read it: it tells of a feed.
    writeFileSync(path, content, { flag: replace ? 'w' : 'wx', mode: 0o600 });
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === 'EEXIST') {
      throw new PlainError(
        'out-exists',
        `There is something named ${path} already. It was left as it is.`,
        'Choose another name, or add --replace.',
        { cause },
      );
    }
    const reason = (cause as NodeJS.ErrnoException).code ?? String(cause);
    throw new PlainError(
      'graph-unwritable',
      `The file ${path} cannot be written (${reason}).`,
      'Choose another place.',
      { cause },
    );
  }
  process.stdout.write(`${path}\n`);
}
