/** The files of a calibration: the walk so far, a drawn outline, the result and its certificate. */
import { existsSync, readFileSync, rmSync } from 'node:fs';
import { extname } from 'node:path';
import { PlainError } from '../../base/errors.ts';
import { certificateOf } from '../../calibration/walk/certificate.ts';
import type { Outcome } from '../../calibration/walk/outcome.ts';
import { profileFromOutline } from '../../calibration/walk/profile.ts';
import type { WalkState } from '../../calibration/walk/walk-state.ts';
import { certificateHtml } from '../../paper/certificate/certificate-html.ts';
import { certificatePdf } from '../../paper/certificate/certificate-pdf.ts';
import { writeWhole } from '../out-file.ts';

/** A walk takes long, so its file must survive any failure. */
const write = (path: string, content: string | Buffer): void =>
  writeWhole(path, content, {
    force: true,
    remedy:
      'Free some room or choose another place with --out; nothing of the walk is lost, run the command again.',
  });

export const keepProgress = (path: string, walk: WalkState): void => write(path, `${JSON.stringify(walk)}\n`);

/** @returns null when no walk was begun there. @throws PlainError when the file is no walk */
export function progressFrom(path: string): WalkState | null {
  if (!existsSync(path)) return null;
  let found: WalkState | null = null;
  try {
    found = JSON.parse(readFileSync(path, 'utf8')) as WalkState;
  } catch {
    // Reported below: a file that cannot be parsed is no walk.
  }
  const whole = found?.version === 1 && typeof found.holds === 'object' && Array.isArray(found.skipped);
  if (whole && found) return found;
  throw new PlainError(
    'calibration-progress',
    `${path} does not hold a calibration that was begun.`,
    'Move it away, or begin anew with --fresh.',
  );
}

/** Path of the finished walk beside its calibration; it is used to calibrate another bottle later. */
const walkBeside = (path: string): string => `${path.slice(0, path.length - extname(path).length)}-walk.json`;

/** @throws PlainError when no finished walk lies beside that calibration */
export function finishedWalk(calibrationPath: string): WalkState {
  const found = progressFrom(walkBeside(calibrationPath));
  if (found) return found;
  throw new PlainError(
    'walk-missing',
    `Beside ${calibrationPath} there is no ${walkBeside(calibrationPath)}, the holds that it was made from.`,
    'Name a calibration that "ebbline sleeve calibrate" has written, with its files still beside it, or calibrate the whole sleeve again.',
  );
}

export const forgetProgress = (path: string): void => rmSync(path, { force: true });

/** "z, radius" in mm, one point a line, or the same as JSON. @throws PlainError when it is neither */
export function outlineFrom(path: string): [number, number][] {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch (cause) {
    throw new PlainError('outline-missing', `The outline ${path} cannot be read.`, 'Check its name.', {
      cause,
    });
  }
  const numbers = (text.match(/-?\d+(?:\.\d+)?/g) ?? []).map(Number);
  if (numbers.length % 2 === 1) {
    throw new PlainError(
      'outline-points',
      `The outline ${path} has ${numbers.length} numbers; each point needs two.`,
      'Write height and inner radius in millimeters, one point a line.',
    );
  }
  return profileFromOutline(
    Array.from({ length: numbers.length / 2 }, (_, i): [number, number] => [
      numbers[2 * i]!,
      numbers[2 * i + 1]!,
    ]),
  );
}

/** Eight digits: more than the accuracy of the measurement, and still readable. */
const shortNumbers = (_: string, value: unknown): unknown =>
  typeof value === 'number' ? Number(value.toPrecision(8)) : value;

/** @returns the files written: calibration, walk, page, PDF */
export async function writeOutcome(path: string, walk: WalkState, outcome: Outcome): Promise<string[]> {
  const stem = path.slice(0, path.length - extname(path).length);
  const certificate = certificateOf(walk, outcome);
  const files: [string, string | Buffer][] = [
    [path, `${JSON.stringify(outcome.calibration, shortNumbers, 2)}\n`],
    [walkBeside(path), `${JSON.stringify(walk)}\n`],
    [`${stem}-certificate.html`, certificateHtml(certificate)],
    [`${stem}-certificate.pdf`, await certificatePdf(certificate)],
  ];
  for (const [name, content] of files) write(name, content);
  return files.map(([name]) => name);
}
