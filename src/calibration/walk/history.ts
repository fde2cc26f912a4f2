/**
 * The history of a calibration: results of the checks at feeds since, and corrections of the bottle learned from feeds. The calibration itself
 * is never changed, so that all of it can be seen and undone.
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
const historySchema = z.object({
  sleeveId: z.string(),
  /** Identifies the calibration: a new one begins with an empty history. */
  calibratedAt: z.string(),
  bottleName: z.string().nullable(),
  checks: z.array(checkSchema),
  corrections: z.array(correctionSchema),
  /** What feeds have shown about the ends of the bottle so far, beyond the corrections; null before the first. */
  belief: beliefSchema.nullable(),
});
const allSchema = z.array(historySchema);

export type CalibrationHistory = z.infer<typeof historySchema>;

const MOST_CHECKS = 100;

/** @param kept as stored; data that cannot be read counts as empty */
export function historiesFrom(kept: unknown): CalibrationHistory[] {
  const read = allSchema.safeParse(kept);
  return read.success ? read.data : [];
}

/** The history of this sleeve, calibration and bottle; empty if there is none. */
export function historyOf(
  all: readonly CalibrationHistory[],
  sleeveId: string,
  calibration: Calibration,
): CalibrationHistory {
  const { calibratedAt } = calibration;
  const bottleName = bottleNameOf(calibration);
  return (
    all.find((history) => belongs(history, { sleeveId, calibratedAt, bottleName })) ?? {
      sleeveId,
      calibratedAt,
      bottleName,
      checks: [],
      corrections: [],
      belief: null,
    }
  );
}

type Place = Pick<CalibrationHistory, 'sleeveId' | 'calibratedAt' | 'bottleName'>;
const belongs = (history: Place, place: Place): boolean =>
  history.sleeveId === place.sleeveId &&
  history.calibratedAt === place.calibratedAt &&
  history.bottleName === place.bottleName;

/** @returns all histories, with this one in place of its older version */
export const withHistory = (
  all: readonly CalibrationHistory[],
  history: CalibrationHistory,
): CalibrationHistory[] => [...all.filter((other) => !belongs(other, history)), history];

export function withCheck(
  history: CalibrationHistory,
  { verdict, finding, reasons, zeroShiftGrams, inSleeve }: CheckOpinion,
  when: { atMs: number; feedId: string | null },
): CalibrationHistory {
  const check = { ...when, inSleeve, verdict, finding, reasons: [...reasons], zeroShiftGrams };
  return { ...history, checks: [...history.checks, check].slice(-MOST_CHECKS) };
}

/** @returns the history with what was learned from a feed; unchanged if the corrections together exceed their limits */
export function withLesson(
  history: CalibrationHistory,
  calibration: Calibration,
  { belief, change }: Lesson,
  when: Pick<BottleCorrection, 'learnedAt' | 'feedId'>,
): CalibrationHistory {
  const more = change ? [{ ...when, change, emptyMassGrams: 0 }] : [];
  const next = { ...history, belief, corrections: [...history.corrections, ...more] };
  return learnedCalibration(calibration, next).applied ? next : history;
}

/** @returns the history without the latest `count` corrections; the belief behind them is reset too, or the next feed would bring them back */
export const withoutLessons = (
  history: CalibrationHistory,
  count = Number.POSITIVE_INFINITY,
): CalibrationHistory => ({
  ...history,
  belief: null,
  corrections: history.corrections.slice(0, Math.max(0, history.corrections.length - count)),
});

/** The calibration with all learned corrections applied; unchanged if they exceed their limits. */
export function learnedCalibration(
  calibration: Calibration,
  { corrections }: CalibrationHistory,
): { calibration: Calibration; applied: boolean } {
  try {
    return { calibration: corrections.reduce(withCorrection, calibration), applied: true };
  } catch {
    return { calibration, applied: false };
  }
}

/** Drift of the zeros since the calibration: the median of the last three checks, g; null without any. */
export function driftGrams({ checks }: CalibrationHistory): number | null {
  const shifts = checks.flatMap(({ zeroShiftGrams }) => zeroShiftGrams ?? []).slice(-3);
  return shifts.length === 0 ? null : shifts.sort((a, b) => a - b)[Math.floor(shifts.length / 2)]!;
}
