/** The calibration file of a sleeve and its bottle (sleeve contract, section 4): checked once, at the start. */

import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import { plainIssue } from '../../base/plain-issue.ts';
import { tripleOf } from '../../base/typed.ts';

const finite = z.number();
const triple = z.tuple([finite, finite, finite]);
const matrix = z.tuple([triple, triple, triple]);

const calibrationSchema = z.looseObject({
  version: z.literal(1),
  sleeveId: z.string().min(1),
  calibratedAt: z.string().min(1),
  zeroCounts: triple,
  loadPerCount: matrix,
  accelerometer: z.looseObject({
    biasG: triple,
    scale: triple,
    alignment: matrix.optional(),
    positionMm: triple.optional(),
  }),
  gyroscope: z.looseObject({ biasDps: triple, scale: triple }).optional(),
  bottle: z.looseObject({
    emptyMassGrams: finite.positive(),
    emptyCentreZMm: finite,
    teatTipZMm: finite.positive(),
    innerProfileMm: z.array(z.tuple([finite, finite.nonnegative()])).min(2),
  }),
});

/**
 * A checked calibration. `zeroCounts` in counts (axial, front, rear); `loadPerCount` rows Fx (N), Fz (N), M (N·m);
 * `biasG` in g; `biasDps` in °/s; `scale` without unit; `emptyMassGrams` with the inner cup; lengths in mm.
 */
export type Calibration = z.infer<typeof calibrationSchema>;

/** Zero-rate output of such a chip: ±20 °/s (product specification, from memory). A larger value means a bad chip, or one that was turning. */
export const MOST_GYROSCOPE_BIAS_DPS = 20;

/** A bottle of 25 cm, drawn at each half millimetre, has this many points; a profile with more points is refused (own limit). */
const MOST_PROFILE_POINTS = 500;

/** Largest radius of a bottle that a hand can hold, mm (own limit). */
const WIDEST_RADIUS_MM = 60;

/** Along the bottle, mm (own limit). */
const LONGEST_MM = 300;

/** An inner cup, a nipple and an empty bottle together; the lightest bottle weighs more than this (own limit). */
const EMPTY_GRAMS = { least: 20, greatest: 1000 } as const;

/** The accelerometer sits somewhere along a bottle of at most 25 cm, or behind it, mm (own limit). */
const POSITION_MM = { least: -60, greatest: 250 } as const;

const REMEDY = 'Use the file that was made for this sleeve, or calibrate it again.';

/** Condition number (1-norm) of a 3×3 matrix whose columns are scaled to unit length; infinite when singular. */
export function conditionNumber(rows: Calibration['loadPerCount']): number {
  // Rows carry different units (N, N·m): scale each to its largest element before computing the condition number.
  const scaled = rows.map((row) => {
    const largest = Math.max(...row.map(Math.abs));
    return largest > 0 ? row.map((v) => v / largest) : row;
  });
  const [[a, b, c], [d, e, f], [g, h, i]] = tripleOf(scaled.map(tripleOf));
  const det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  if (!(Math.abs(det) > 0)) return Number.POSITIVE_INFINITY;
  const adjugate = [
    [e * i - f * h, c * h - b * i, b * f - c * e],
    [f * g - d * i, a * i - c * g, c * d - a * f],
    [d * h - e * g, b * g - a * h, a * e - b * d],
  ];
  const norm = (m: number[][]) =>
    Math.max(...[0, 1, 2].map((col) => m.reduce((sum, row) => sum + Math.abs(row[col]!), 0)));
  return (norm(scaled) * norm(adjugate)) / Math.abs(det);
}

/**
 * Checks a parsed calibration file.
 * @param source names the file in error texts
 * @throws PlainError calibration-version, -form, -matrix, -accelerometer, -gyroscope, -bottle
 */
export function parseCalibration(content: unknown, source: string): Calibration {
  const version = (content as { version?: unknown } | null)?.version;
  if (typeof version === 'number' && version !== 1) {
    throw new PlainError(
      'calibration-version',
      `The calibration ${source} has version ${version}; this program reads version 1.`,
      version > 1 ? 'Update Ebbline, or calibrate the sleeve again.' : REMEDY,
    );
  }
  const checked = calibrationSchema.safeParse(content);
  if (!checked.success) {
    const first = checked.error.issues[0]!;
    const where = first.path.length > 0 ? ` at ${first.path.join('.')}` : '';
    throw new PlainError(
      'calibration-form',
      `The calibration ${source} does not have the right form${where}: it ${plainIssue(first)}.`,
      REMEDY,
    );
  }
  const calibration = checked.data;
  const { bottle } = calibration;
  if (conditionNumber(calibration.loadPerCount) > 1e4) {
    throw new PlainError(
      'calibration-matrix',
      `The calibration ${source} cannot be right: the rows of loadPerCount do not tell three loads apart.`,
      REMEDY,
    );
  }
  refuseWrongMotion(calibration, source);
  refuseNoBottle(bottle, source);
  const profile = bottle.innerProfileMm;
  if (profile.some(([z], i) => i > 0 && z <= profile[i - 1]![0])) {
    throw new PlainError(
      'calibration-bottle',
      `The calibration ${source} cannot be right: innerProfileMm must rise in z from base to neck.`,
      REMEDY,
    );
  }
  if (profile.every(([, radius]) => radius === 0) || bottle.teatTipZMm <= profile[0]![0]) {
    throw new PlainError(
      'calibration-bottle',
      `The calibration ${source} cannot be right: the bottle has no room for milk below the tip of the nipple.`,
      REMEDY,
    );
  }
  return calibration;
}

/** @throws PlainError calibration-accelerometer, -gyroscope */
function refuseWrongMotion({ accelerometer, gyroscope }: Calibration, source: string): void {
  if (
    accelerometer.scale.some((s) => s < 0.5 || s > 2) ||
    accelerometer.biasG.some((b) => Math.abs(b) > 0.5)
  ) {
    throw new PlainError(
      'calibration-accelerometer',
      `The calibration ${source} cannot be right: accelerometer scale must lie in 0.5 to 2 and biasG within 0.5 g.`,
      REMEDY,
    );
  }
  const { least, greatest } = POSITION_MM;
  if (accelerometer.positionMm?.some((mm) => mm < least || mm > greatest)) {
    throw new PlainError(
      'calibration-accelerometer',
      `The calibration ${source} cannot be right: accelerometer positionMm must lie in ${least} to ${greatest} mm.`,
      REMEDY,
    );
  }
  if (
    gyroscope &&
    (gyroscope.scale.some((s) => s < 0.5 || s > 2) ||
      gyroscope.biasDps.some((b) => Math.abs(b) > MOST_GYROSCOPE_BIAS_DPS))
  ) {
    throw new PlainError(
      'calibration-gyroscope',
      `The calibration ${source} cannot be right: gyroscope scale must lie in 0.5 to 2 and biasDps within ${MOST_GYROSCOPE_BIAS_DPS} °/s.`,
      REMEDY,
    );
  }
}

/** Refuses what cannot be a hand-held bottle: its tables would take minutes, or its milk would be wrong by the weight of a bottle. @throws PlainError calibration-bottle */
function refuseNoBottle(
  { innerProfileMm, emptyMassGrams, teatTipZMm }: Calibration['bottle'],
  source: string,
): void {
  const { least, greatest } = EMPTY_GRAMS;
  const what =
    innerProfileMm.length > MOST_PROFILE_POINTS
      ? `innerProfileMm has ${innerProfileMm.length} points; ${MOST_PROFILE_POINTS} are enough for any bottle`
      : innerProfileMm.some(([z, radius]) => radius > WIDEST_RADIUS_MM || Math.abs(z) > LONGEST_MM) ||
          teatTipZMm > LONGEST_MM
        ? `no bottle in a hand is wider than ${2 * WIDEST_RADIUS_MM} mm or longer than ${LONGEST_MM} mm`
        : emptyMassGrams < least || emptyMassGrams > greatest
          ? `emptyMassGrams, the empty bottle with the inner cup, must lie in ${least} to ${greatest} g`
          : null;
  if (what !== null)
    throw new PlainError('calibration-bottle', `The calibration ${source} cannot be right: ${what}.`, REMEDY);
}

/** @throws PlainError when `text` is not JSON or not a calibration */
export function readCalibration(text: string, source: string): Calibration {
  let content: unknown;
  try {
    content = JSON.parse(text);
  } catch (cause) {
    throw new PlainError(
      'calibration-form',
      `The calibration ${source} is not JSON: ${(cause as Error).message}.`,
      REMEDY,
      {
        cause,
      },
    );
  }
  return parseCalibration(content, source);
}
