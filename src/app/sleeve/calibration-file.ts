/** Reads a calibration file given by a person. */

import { readFileSync } from 'node:fs';
import { codeOf, PlainError } from '../../base/errors.ts';
import { type Calibration, readCalibration } from '../../sensing/index.ts';

/** @throws PlainError when the file is missing, unreadable or no calibration */
export function calibrationFrom(path: string): Calibration {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (cause) {
    const missing = codeOf(cause) === 'ENOENT';
    throw new PlainError(
      missing ? 'calibration-missing' : 'calibration-unreadable',
      missing ? `There is no calibration file ${path}.` : `The calibration file ${path} cannot be read.`,
      'Check the name, or give another file with --calibration.',
      { cause },
    );
  }
  return readCalibration(text, path);
}
