import { writeFileSync } from 'node:fs';
import { PlainError } from '../../base/errors.ts';

/** Writes a file and says where. @throws PlainError when it cannot be written */
export function writeOut(path: string, content: string | Uint8Array): void {
  try {
    writeFileSync(path, content);
  } catch (cause) {
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
