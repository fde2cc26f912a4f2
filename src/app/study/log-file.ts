/** Append-only files of JSON lines. */
import { PlainError } from '../../base/errors.ts';
import { ownJson } from '../../base/typed.ts';
import type { SideFiles } from '../../store/side-files.ts';

/** @throws PlainError study-log-damaged */
export function readLines<T>(files: SideFiles, name: string): T[] {
  const text = files.read(name)?.toString() ?? '';
  // A line cut off by a crash has no end; its write was never confirmed.
  return text
    .slice(0, text.lastIndexOf('\n') + 1)
    .split('\n')
    .filter(Boolean)
    .map((line, i) => lineOf<T>(line, i + 1, files.where(name)));
}

function lineOf<T>(line: string, number: number, where: string): T {
  try {
    return ownJson<T>(line);
  } catch (cause) {
    throw new PlainError(
      'study-log-damaged',
      `Line ${number} of ${where} is damaged.`,
      'Put the file back from a backup. Nothing was changed.',
      { cause },
    );
  }
}

/** Durable on return. */
export const addLine = (files: SideFiles, name: string, line: object): void =>
  files.addLine(name, JSON.stringify(line));

/** @returns the text of a log with these lines */
export const linesOf = (lines: readonly object[]): string =>
  lines.map((line) => `${JSON.stringify(line)}\n`).join('');
