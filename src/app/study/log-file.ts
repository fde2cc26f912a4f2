/** Lines of JSON that are only ever added to. */

import * as fs from 'node:fs';
import { PlainError } from '../../base/errors.ts';
import { ownJson } from '../../base/typed.ts';

/** @throws PlainError study-log-damaged */
export function readLines<T>(path: string): T[] {
  if (!fs.existsSync(path)) return [];
  const text = fs.readFileSync(path, 'utf8');
  // A line cut off by a crash has no end; its write was never confirmed.
  return text
    .slice(0, text.lastIndexOf('\n') + 1)
    .split('\n')
    .filter(Boolean)
    .map((line, i) => lineOf<T>(line, i + 1, path));
}

function lineOf<T>(line: string, number: number, path: string): T {
  try {
    return ownJson<T>(line);
  } catch (cause) {
    throw new PlainError(
      'study-log-damaged',
      `Line ${number} of ${path} is damaged.`,
      'Put the file back from a backup. Nothing was changed.',
      { cause },
    );
  }
}

/** Durable on return. */
export function addLine(path: string, line: object): void {
  const fd = fs.openSync(path, 'a', 0o600);
  try {
    // Remove an incomplete last line, which would spoil the new one.
    fs.ftruncateSync(fd, fs.readFileSync(path).lastIndexOf('\n') + 1);
    fs.writeSync(fd, `${JSON.stringify(line)}\n`);
    fs.fsyncSync(fd);
  } finally {
    fs.closeSync(fd);
  }
}

/** @returns the text of a log with these lines */
export const linesOf = (lines: readonly object[]): string =>
  lines.map((line) => `${JSON.stringify(line)}\n`).join('');
