/**
 * Reads a capture: the bytes as they came, gzip-compressed if the name ends in `.gz` (sleeve contract, section 3), or repacked
 * by column, which is recognized by its content (`capture-columns.ts`).
 */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { constants, gunzipSync } from 'node:zlib';
import { codeOf, PlainError } from '../../src/base/errors.ts';
import { isColumns, unpackColumns } from './capture-columns.ts';

export interface Capture {
  bytes: Uint8Array;
  /** Plain sentences about defects of a capture that is used all the same. */
  warnings: string[];
}

const isGzip = (bytes: Uint8Array): boolean => bytes[0] === 0x1f && bytes[1] === 0x8b;

/**
 * @returns the capture's bytes as far as they can be read; a compressed one that is incomplete or damaged gives the bytes before, and a warning
 * @throws PlainError no such file, a folder, not readable, empty, or not of the type its name says
 */
export function readCapture(path: string): Capture {
  const stored = readStored(path);
  if (stored.length === 0) {
    throw new PlainError('capture-empty', `The capture ${path} is empty.`, 'Choose another capture.');
  }
  if (isColumns(stored)) {
    const { bytes, isWhole } = unpackColumns(stored);
    return {
      bytes: nonEmpty(bytes, path),
      warnings: isWhole ? [] : [usedInPart(path, 'is cut short or damaged')],
    };
  }
  if (path.endsWith('.gz')) {
    if (!isGzip(stored)) {
      throw new PlainError(
        'capture-not-gzip',
        `The capture ${path} is named .gz but is not gzip-compressed.`,
        'If it holds plain bytes, rename it without .gz.',
      );
    }
    return unzipAsFarAsItGoes(stored, path);
  }
  if (isGzip(stored)) {
    throw new PlainError(
      'capture-gzip-unnamed',
      `The capture ${path} is gzip-compressed but its name does not end in .gz.`,
      `Rename it to ${basename(path)}.gz.`,
    );
  }
  return { bytes: stored, warnings: [] };
}

/** @returns the error for a file without a sample; thrown by whoever scans a capture. */
export const noSamplesIn = (path: string, rejected: number): PlainError =>
  new PlainError(
    'capture-no-samples',
    `The file ${path} holds no usable sample of a sleeve${rejected > 0 ? ` (${rejected} broken ones)` : ''}.`,
    'Check that it is a capture: the bytes of a sleeve as they came from the serial line.',
  );

function readStored(path: string): Uint8Array {
  try {
    return readFileSync(path);
  } catch (cause) {
    const code = codeOf(cause);
    if (code === 'ENOENT' || code === 'ENOTDIR') {
      throw new PlainError(
        'capture-missing',
        `There is no capture ${path}.`,
        'Check the name and the folder.',
        {
          cause,
        },
      );
    }
    if (code === 'EISDIR') {
      throw new PlainError(
        'capture-is-folder',
        `${path} is a folder, not a capture.`,
        'Name a file inside it.',
        {
          cause,
        },
      );
    }
    throw new PlainError(
      'capture-unreadable',
      `The capture ${path} cannot be read (${code ?? String(cause)}).`,
      'Check that you may read the file.',
      { cause },
    );
  }
}

function unzipAsFarAsItGoes(stored: Uint8Array, path: string): Capture {
  try {
    return { bytes: nonEmpty(gunzipSync(stored), path), warnings: [] };
  } catch (error) {
    if (error instanceof PlainError) throw error;
    const cut = codeOf(error) === 'Z_BUF_ERROR';
    const bytes = cut ? unzipPart(stored, stored.length) : unzipBeforeDamage(stored);
    const what = cut ? 'is cut short' : 'is damaged';
    return {
      bytes: nonEmpty(bytes ?? new Uint8Array(0), path),
      warnings: [usedInPart(path, what)],
    };
  }
}

const usedInPart = (path: string, what: string): string =>
  `The capture ${path} ${what}; it is used as far as it goes.`;

function nonEmpty(bytes: Uint8Array, path: string): Uint8Array {
  if (bytes.length > 0) return bytes;
  throw new PlainError(
    'capture-empty',
    `Nothing can be unpacked from the capture ${path}.`,
    'Choose another capture.',
  );
}

/** @returns what the first `length` stored bytes unpack to; null if there is damage among them. */
function unzipPart(stored: Uint8Array, length: number): Uint8Array | null {
  try {
    return gunzipSync(stored.subarray(0, length), { finishFlush: constants.Z_SYNC_FLUSH });
  } catch {
    return null;
  }
}

/** All stored bytes before the damage can be unpacked, so its position is found by bisection. */
function unzipBeforeDamage(stored: Uint8Array): Uint8Array | null {
  let good = 0;
  let bad = stored.length;
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    if (unzipPart(stored, middle) === null) bad = middle;
    else good = middle;
  }
  return unzipPart(stored, good);
}
