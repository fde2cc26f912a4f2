/**
 * What is kept beside a calibration: the checks of the feeds since, and what feeds have taught about the bottle. The calibration itself
 * stays as it was made, so that all of it can be seen and undone.
 */

import { z } from 'zod';
import type { Calibration } from '../../sensing/loads/calibration.ts';
import type { CheckOpinion } from '../check/feed-check.ts';
import { type BottleCorrection, withCorrection } from '../fit/corrections.ts';
import type { Lesson } from '../fit/learned.ts';
import { bottleNameOf } from './noted.ts';

const checkSchema = z.object({
  atMs: z.number(),
  feedId: z.string().nullable(),
  inSleeve: z.enum(['nothing', 'bottle']),
  verdict: z.enum(['good', 'watch', 'again']),
  finding: z.enum(['zero', 'bottle', 'amount', 'due']).nullable(),
  reasons: z.array(z.string()),
  zeroShiftGrams: z.number().nullable(),
});
const correctionSchema = z.object({
  learnedAt: z.string(),
  feedId: z.string(),
  change: z.object({ baseShiftMm: z.number(), neckShiftMm: z.number() }),
  emptyMassGrams: z.number(),
});
const beliefSchema = z.object({
  baseMm: z.number(),
  neckMm: z.number(),
  baseVariance: z.number().positive(),
  neckVariance: z.number().positive(),
  covariance: z.number(),
});
const notesSchema = z.object({
  sleeveId: z.string(),
  /** Which calibration they belong to: a new one begins with none. */
  calibratedAt: z.string(),
  bottleName: z.string().nullable(),
  checks: z.array(checkSchema),
  corrections: z.array(correctionSchema),
  /** What feeds have made of the bottle's ends so far, beyond the corrections; null before the first. */
  belief: beliefSchema.nullable(),
});
const allSchema = z.array(notesSchema);

export type CalibrationNotes = z.infer<typeof notesSchema>;

const MOST_CHECKS = 100;

/** @param kept as it was stored; what cannot be read counts as nothing kept */
export function notesFrom(kept: unknown): CalibrationNotes[] {
  const read = allSchema.safeParse(kept);
  return read.success ? read.data : [];
}

/** Those of this sleeve, calibration and bottle; empty ones when there are none. */
export function notesOf(
  all: readonly CalibrationNotes[],
  sleeveId: string,
  calibration: Calibration,
): CalibrationNotes {
  const { calibratedAt } = calibration;
  const bottleName = bottleNameOf(calibration);
  return (
    all.find((notes) => belongs(notes, { sleeveId, calibratedAt, bottleName })) ?? {
      sleeveId,
      calibratedAt,
      bottleName,
      checks: [],
      corrections: [],
      belief: null,
    }
  );
}

type Place = Pick<CalibrationNotes, 'sleeveId' | 'calibratedAt' | 'bottleName'>;
const belongs = (notes: Place, place: Place): boolean =>
  notes.sleeveId === place.sleeveId &&
  notes.calibratedAt === place.calibratedAt &&
  notes.bottleName === place.bottleName;

/** @returns all, with these in the place of the ones before */
export const withNotes = (all: readonly CalibrationNotes[], notes: CalibrationNotes): CalibrationNotes[] => [
  ...all.filter((other) => !belongs(other, notes)),
  notes,
];

export function withCheck(
  notes: CalibrationNotes,
  { verdict, finding, reasons, zeroShiftGrams, inSleeve }: CheckOpinion,
  when: { atMs: number; feedId: string | null },
): CalibrationNotes {
  const check = { ...when, inSleeve, verdict, finding, reasons: [...reasons], zeroShiftGrams };
  return { ...notes, checks: [...notes.checks, check].slice(-MOST_CHECKS) };
}

/** @returns the notes with what a feed taught; unchanged when all corrections together would go too far */
export function withLesson(
  notes: CalibrationNotes,
  calibration: Calibration,
  { belief, change }: Lesson,
  when: Pick<BottleCorrection, 'learnedAt' | 'feedId'>,
): CalibrationNotes {
  const more = change ? [{ ...when, change, emptyMassGrams: 0 }] : [];
  const next = { ...notes, belief, corrections: [...notes.corrections, ...more] };
  return learnedCalibration(calibration, next).applied ? next : notes;
}

/** @returns the notes without the latest `count` corrections; what led to them is forgotten too, or the next feed would bring them back */
export const withoutLessons = (
  notes: CalibrationNotes,
  count = Number.POSITIVE_INFINITY,
): CalibrationNotes => ({
  ...notes,
  belief: null,
  corrections: notes.corrections.slice(0, Math.max(0, notes.corrections.length - count)),
});

/** The calibration with what feeds have taught carried in it; as it was made when that goes too far. */
export function learnedCalibration(
  calibration: Calibration,
  { corrections }: CalibrationNotes,
): { calibration: Calibration; applied: boolean } {
  try {
    return { calibration: corrections.reduce(withCorrection, calibration), applied: true };
  } catch {
    return { calibration, applied: false };
  }
}

/** How far the zeros have gone since the calibration: the middle of the last three checks, g; null without any. */
export function driftGrams({ checks }: CalibrationNotes): number | null {
  const shifts = checks.flatMap(({ zeroShiftGrams }) => zeroShiftGrams ?? []).slice(-3);
  return shifts.length === 0 ? null : shifts.sort((a, b) => a - b)[Math.floor(shifts.length / 2)]!;
}
