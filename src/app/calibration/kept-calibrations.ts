/** Stored calibrations, results of checks at feeds, and learned corrections: in words, and undoing corrections. */

import { PlainError } from '../../base/errors.ts';
import { type CalibrationHistory, driftGrams, withoutLessons } from '../../calibration/walk/history.ts';
import { type Calibration, parseCalibration } from '../../sensing/index.ts';

const signed = (mm: number): string => `${mm < 0 ? '−' : '+'}${Math.abs(mm).toFixed(2)} mm`;
const dayOf = (iso: string | number): string => new Date(iso).toISOString().slice(0, 10);

/** Text at the start of a feed: only what a person should know. @returns an empty text when all is well */
export function historyText(calibration: Calibration, history: CalibrationHistory, nowIso: string): string {
  const last = history.checks.at(-1);
  const due = (calibration as { nextCheckDue?: string }).nextCheckDue;
  const lines = [
    ...(last && last.verdict !== 'good'
      ? [`Last check of the calibration (${dayOf(last.atMs)}): ${last.reasons.join(' ')}`]
      : []),
    ...(due && nowIso >= due && last?.finding !== 'due'
      ? [`The calibration was due for a check on ${due}. Run "ebbline sleeve calibrate".`]
      : []),
    ...(history.corrections.length > 0
      ? [
          `In use with it: ${lessonsText(history)}, learned in feeds. To see or undo that: ebbline sleeve calibrations --help`,
        ]
      : []),
  ];
  return lines.map((line) => `${line}\n`).join('');
}

function lessonsText({ corrections }: CalibrationHistory): string {
  const sum = (end: 'baseShiftMm' | 'neckShiftMm'): number =>
    corrections.reduce((total, { change }) => total + change[end], 0);
  const times = corrections.length === 1 ? '1 small correction' : `${corrections.length} small corrections`;
  return `${times} of the bottle (base end ${signed(sum('baseShiftMm'))}, neck end ${signed(sum('neckShiftMm'))})`;
}

/** One stored calibration in plain lines. */
export function calibrationText(
  sleeveId: string,
  calibration: Calibration,
  history: CalibrationHistory,
): string {
  const { name, profileFrom } = calibration.bottle as { name?: string; profileFrom?: string };
  const { nextCheckDue } = calibration as { nextCheckDue?: string };
  const drift = driftGrams(history);
  const last = history.checks.at(-1);
  return [
    `Sleeve ${sleeveId}, ${name ?? 'bottle'}${profileFrom ? ` (${profileFrom})` : ''}`,
    `  calibrated ${dayOf(calibration.calibratedAt)}${nextCheckDue ? `, next check due ${nextCheckDue}` : ''}`,
    last
      ? `  checked at feeds ${history.checks.length}×, last ${dayOf(last.atMs)}: ${last.verdict === 'good' ? 'good' : last.reasons.join(' ')}`
      : '  not checked at a feed yet',
    ...(drift === null ? [] : [`  cells moved by about ${drift.toFixed(1)} g since the calibration`]),
    ...(history.corrections.length === 0
      ? []
      : [
          `  ${lessonsText(history)}, learned in feeds:`,
          ...history.corrections.map(
            ({ learnedAt, feedId, change }) =>
              `    ${dayOf(learnedAt)}  feed ${feedId}: base end ${signed(change.baseShiftMm)}, neck end ${signed(change.neckShiftMm)}`,
          ),
          `  To undo the last: ebbline sleeve calibrations --undo ${sleeveId}   all of them: add --all`,
        ]),
  ].join('\n');
}

/** The latest calibration for each sleeve and bottle. */
export function latestCalibrations(
  kept: readonly { sleeveId: string; calibration: unknown }[],
): { sleeveId: string; calibration: Calibration }[] {
  const latest = new Map<string, { sleeveId: string; calibration: Calibration }>();
  for (const { sleeveId, calibration: content } of kept) {
    const calibration = parseCalibration(content, `kept for sleeve ${sleeveId}`);
    latest.set(`${sleeveId} ${(calibration.bottle as { name?: string }).name ?? ''}`, {
      sleeveId,
      calibration,
    });
  }
  return [...latest.values()];
}

/** @returns how many were undone. @throws PlainError lesson-none, lesson-which */
export function undoLessons(
  ours: readonly CalibrationHistory[],
  sleeve: string,
  everything: boolean,
  write: (history: CalibrationHistory) => void,
): number {
  const taught = ours.filter(({ corrections }) => corrections.length > 0);
  const [history] = taught;
  if (!history) {
    throw new PlainError(
      'lesson-none',
      `Feeds have taught nothing about a bottle of sleeve ${sleeve}; there is nothing to undo.`,
      'Run "ebbline sleeve calibrations" to see what is kept.',
    );
  }
  if (taught.length > 1) {
    throw new PlainError(
      'lesson-which',
      `Feeds have taught something about ${taught.length} bottles of sleeve ${sleeve}.`,
      `Say which one with --bottle: ${taught.map(({ bottleName }) => bottleName ?? 'bottle').join(', ')}.`,
    );
  }
  const count = everything ? history.corrections.length : 1;
  write(withoutLessons(history, count));
  return count;
}
