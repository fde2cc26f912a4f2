/** What a command says: its answer on standard output, what is beside it on standard error. */
import { type FileOptions, writeWhole } from '../app/out-file.ts';

export type Lines = string | readonly (string | false)[];

export const say = (lines: Lines): void =>
  void process.stdout.write(
    `${typeof lines === 'string' ? lines : lines.filter((line) => line !== false).join('\n')}\n`,
  );

/** @returns content as JSON where that is asked for, else in words */
export const shown = <T>(asJson: boolean | undefined, content: T, words: (content: T) => Lines): Lines =>
  asJson ? JSON.stringify(content, null, 2) : words(content);

export const warn = (text: string): void => void process.stderr.write(`ebbline: ${text}\n`);

/** Writes a file. @returns where it is @throws PlainError file-exists, file-unwritable */
export function writeOut(path: string, content: string | Uint8Array, options: FileOptions = {}): string {
  writeWhole(path, content, options);
  return path;
}
