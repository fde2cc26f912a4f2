/** Output files: written completely or not at all, and never over an existing file without `force`. */

import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { codeOf, PlainError } from '../base/errors.ts';

export interface FileOptions {
  /** Overwrite an existing file. */
  force?: boolean;
  /** What to do when it cannot be written. */
  remedy?: string;
}

/** @returns which of the endings the file's name has @throws PlainError file-ending */
export function endingOf<E extends string>(path: string, endings: readonly E[]): E {
  const ending = endings.find((one) => path.endsWith(`.${one}`));
  if (ending) return ending;
  const [last, ...before] = endings.map((one) => `.${one}`).reverse();
  throw new PlainError(
    'file-ending',
    `The file ${path} must end in ${before.length > 0 ? `${before.reverse().join(', ')} or ${last}` : last}.`,
    'Choose such a name.',
  );
}

/** @throws PlainError file-exists */
export function refuseTaken(path: string, { force = false }: FileOptions = {}): void {
  if (force || !existsSync(path)) return;
  throw new PlainError(
    'file-exists',
    `There is something named ${path} already. It was left as it is.`,
    'Choose another name with --out, or add --force to write over it.',
  );
}

/** Writes a file in one step, so that a power cut leaves no half file. @throws PlainError file-exists, file-unwritable */
export function writeWhole(path: string, content: string | Uint8Array, options: FileOptions = {}): void {
  refuseTaken(path, options);
  const partial = `${path}.part`;
  try {
    mkdirSync(dirname(path), { recursive: true });
    // Readable by its owner only, since it contains a family's data.
    writeFileSync(partial, content, { mode: 0o600 });
    renameSync(partial, path);
  } catch (cause) {
    discard(partial);
    const reason = codeOf(cause) ?? String(cause);
    throw new PlainError(
      'file-unwritable',
      `The file ${path} cannot be written (${reason}).`,
      options.remedy ?? 'Choose another place with --out.',
      { cause },
    );
  }
}

function discard(path: string): void {
  try {
    rmSync(path, { force: true });
  } catch {
    // The partial file does not exist; the first error says why.
  }
}
