/** `ebbline calibrations`: which calibrations are kept, what the checks at feeds have found since, what feeds have taught; and undoing that. */

import { PlainError } from '../../base/errors.ts';
import {
  type CalibrationNotes,
  driftGrams,
  notesFrom,
  notesOf,
  withNotes,
  withoutLessons,
} from '../../calibration/walk/notes.ts';
import { type Calibration, parseCalibration } from '../../sensing/index.ts';
import { dataFolder } from '../../store/data-folder.ts';
import { openStore } from '../../store/feed-store.ts';

const signed = (mm: number): string => `${mm < 0 ? '−' : '+'}${Math.abs(mm).toFixed(2)} mm`;
const dayOf = (iso: string | number): string => new Date(iso).toISOString().slice(0, 10);

/** Said when a watch begins: only what a person should know. @returns nothing when all is well */
export function notesText(calibration: Calibration, notes: CalibrationNotes, nowIso: string): string {
  const last = notes.checks.at(-1);
  const due = (calibration as { nextCheckDue?: string }).nextCheckDue;
  const lines = [
    ...(last && last.verdict !== 'good'
      ? [`Last check of the calibration (${dayOf(last.atMs)}): ${last.reasons.join(' ')}`]
      : []),
    ...(due && nowIso >= due && last?.finding !== 'due'
      ? [`The calibration was due for a check on ${due}. Run "ebbline calibrate".`]
      : []),
    ...(notes.corrections.length > 0
      ? [
          `In use with it: ${lessonsText(notes)}, learned in feeds. To see or undo that: ebbline calibrations --help`,
        ]
      : []),
  ];
  return lines.map((line) => `${line}\n`).join('');
}

function lessonsText({ corrections }: CalibrationNotes): string {
  const sum = (end: 'baseShiftMm' | 'neckShiftMm'): number =>
    corrections.reduce((total, { change }) => total + change[end], 0);
  const times = corrections.length === 1 ? '1 small correction' : `${corrections.length} small corrections`;
  return `${times} of the bottle (base end ${signed(sum('baseShiftMm'))}, neck end ${signed(sum('neckShiftMm'))})`;
}

/** One kept calibration in plain lines. */
export function calibrationText(sleeveId: string, calibration: Calibration, notes: CalibrationNotes): string {
  const { name, profileFrom } = calibration.bottle as { name?: string; profileFrom?: string };
  const { nextCheckDue } = calibration as { nextCheckDue?: string };
  const drift = driftGrams(notes);
  const last = notes.checks.at(-1);
  return [
    `Sleeve ${sleeveId}, ${name ?? 'bottle'}${profileFrom ? ` (${profileFrom})` : ''}`,
    `  calibrated ${dayOf(calibration.calibratedAt)}${nextCheckDue ? `, next check due ${nextCheckDue}` : ''}`,
    last
      ? `  checked at feeds ${notes.checks.length}×, last ${dayOf(last.atMs)}: ${last.verdict === 'good' ? 'good' : last.reasons.join(' ')}`
      : '  not checked at a feed yet',
    ...(drift === null ? [] : [`  cells moved by about ${drift.toFixed(1)} g since the calibration`]),
    ...(notes.corrections.length === 0
      ? []
      : [
          `  ${lessonsText(notes)}, learned in feeds:`,
          ...notes.corrections.map(
            ({ learnedAt, feedId, change }) =>
              `    ${dayOf(learnedAt)}  feed ${feedId}: base end ${signed(change.baseShiftMm)}, neck end ${signed(change.neckShiftMm)}`,
          ),
          `  To undo the last: ebbline calibrations --undo ${sleeveId}   all of them: add --all`,
        ]),
  ].join('\n');
}

export interface CalibrationsOptions {
  /** Number of the sleeve whose last lesson, or with `all` every lesson, is undone. */
  undo?: string;
  /** Which of its bottles, where there are several. */
  bottle?: string;
  all?: boolean;
}

/** @throws PlainError lesson-none, lesson-which */
export function calibrationsCommand({ undo, bottle, all: everything = false }: CalibrationsOptions): void {
  const store = openStore(dataFolder({ simulated: false }));
  try {
    const all = latestCalibrations(store.calibrations());
    const kept = notesFrom(store.readCalibrationNotes());
    if (undo !== undefined) {
      const ours = all
        .filter(({ sleeveId }) => sleeveId === undo)
        .map(({ sleeveId, calibration }) => notesOf(kept, sleeveId, calibration))
        .filter((notes) => bottle === undefined || notes.bottleName === bottle);
      const count = undoLessons(ours, undo, everything, (notes) =>
        store.writeCalibrationNotes(withNotes(notesFrom(store.readCalibrationNotes()), notes)),
      );
      process.stdout.write(
        `Undone: ${count} correction${count === 1 ? '' : 's'} of sleeve ${undo}. It holds from the next start on; kept feeds stay as they were measured.\n`,
      );
      return;
    }
    if (all.length === 0) {
      process.stdout.write(
        'No calibration is kept yet. Make one with "ebbline calibrate", then hand it to "ebbline start --calibration".\n',
      );
      return;
    }
    for (const { sleeveId, calibration } of all) {
      process.stdout.write(
        `${calibrationText(sleeveId, calibration, notesOf(kept, sleeveId, calibration))}\n`,
      );
    }
  } finally {
    store.close();
  }
}

/** Of each sleeve with each bottle the latest. */
function latestCalibrations(
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
function undoLessons(
  ours: readonly CalibrationNotes[],
  sleeve: string,
  everything: boolean,
  write: (notes: CalibrationNotes) => void,
): number {
  const taught = ours.filter(({ corrections }) => corrections.length > 0);
  const [notes] = taught;
  if (!notes) {
    throw new PlainError(
      'lesson-none',
      `Feeds have taught nothing about a bottle of sleeve ${sleeve}; there is nothing to undo.`,
      'Run "ebbline calibrations" to see what is kept.',
    );
  }
  if (taught.length > 1) {
    throw new PlainError(
      'lesson-which',
      `Feeds have taught something about ${taught.length} bottles of sleeve ${sleeve}.`,
      `Say which one with --bottle: ${taught.map(({ bottleName }) => bottleName ?? 'bottle').join(', ')}.`,
    );
  }
  const count = everything ? notes.corrections.length : 1;
  write(withoutLessons(notes, count));
  return count;
}
