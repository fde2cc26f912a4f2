/** Standard output of a command. */
import { type FileOptions, writeWhole } from '../app/out-file.ts';

export const say = (lines: string | readonly (string | false)[]): boolean =>
  process.stdout.write(
    `${typeof lines === 'string' ? lines : lines.filter((line) => line !== false).join('\n')}\n`,
  );

export const sayJson = (content: unknown): boolean => say(JSON.stringify(content, null, 2));

/** Writes a file and says where it is. @throws PlainError file-exists, file-unwritable */
export function writeOut(path: string, content: string | Uint8Array, options: FileOptions = {}): void {
  writeWhole(path, content, options);
  say(path);
}
