/** Stored calibrations, results of checks at feeds, and learned corrections: in words, and undoing corrections. */
import { counted } from '../../base/counted.ts';
import { PlainError } from '../../base/errors.ts';
import {
  type CalibrationHistory,
  driftGrams,
  historiesFrom,
  historyOf,
  withHistory,
  withoutLessons,
} from '../../calibration/walk/history.ts';
import { bottleNameOf, nextCheckDueOf, profileFromOf } from '../../calibration/walk/noted.ts';
import { type Calibration, parseCalibration } from '../../sensing/index.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';

const signed = (mm: number): string => `${mm < 0 ? '−' : '+'}${Math.abs(mm).toFixed(2)} mm`;
const dayOf = (iso: string | number): string => new Date(iso).toISOString().slice(0, 10);

/** Text at the start of a feed: only what a person should know. @returns an empty text when all is well */
export function historyText(calibration: Calibration, history: CalibrationHistory, nowIso: string): string {
  const last = history.checks.at(-1);
  const due = nextCheckDueOf(calibration);
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
function calibrationText({ sleeveId, calibration, notes: history }: NotedCalibration): string {
  const nextCheckDue = nextCheckDueOf(calibration);
  const profileFrom = profileFromOf(calibration);
  const drift = driftGrams(history);
  const last = history.checks.at(-1);
  return [
    `Sleeve ${sleeveId}, ${bottleNameOf(calibration) ?? 'bottle'}${profileFrom ? ` (${profileFrom})` : ''}`,
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

export interface NotedCalibration {
  sleeveId: string;
  calibration: Calibration;
  notes: CalibrationHistory;
}

type CalibrationStore = Pick<
  FeedJournal,
  'calibrations' | 'readCalibrationHistories' | 'writeCalibrationHistories'
>;

/** Of each sleeve with each bottle the latest, with what feeds have found and taught. */
export function notedCalibrations(store: CalibrationStore): NotedCalibration[] {
  const histories = historiesFrom(store.readCalibrationHistories());
  const latest = new Map<string, NotedCalibration>();
  for (const { sleeveId, calibration: content } of store.calibrations()) {
    const calibration = parseCalibration(content, `kept for sleeve ${sleeveId}`);
    latest.set(`${sleeveId} ${bottleNameOf(calibration) ?? ''}`, {
      sleeveId,
      calibration,
      notes: historyOf(histories, sleeveId, calibration),
    });
  }
  return [...latest.values()];
}

export const calibrationsText = (all: readonly NotedCalibration[]): string[] =>
  all.length === 0
    ? [
        'No calibration is kept yet. Make one with "ebbline sleeve calibrate", then hand it to "ebbline start --calibration".',
      ]
    : all.map(calibrationText);

/** Undoes the last lesson about a sleeve's bottle, or all. @returns what was undone, in words @throws PlainError lesson-none, lesson-which */
export function undoAsAsked(
  store: CalibrationStore,
  sleeve: string,
  { bottle, all = false }: { bottle?: string; all?: boolean },
): string {
  const [history, ...others] = notedCalibrations(store)
    .filter(({ sleeveId }) => sleeveId === sleeve)
    .map((one) => one.notes)
    .filter(({ bottleName }) => bottle === undefined || bottleName === bottle)
    .filter(({ corrections }) => corrections.length > 0);
  if (!history) {
    throw new PlainError(
      'lesson-none',
      `Feeds have taught nothing about a bottle of sleeve ${sleeve}; there is nothing to undo.`,
      'Run "ebbline sleeve calibrations" to see what is kept.',
    );
  }
  if (others.length > 0) {
    const names = [history, ...others].map(({ bottleName }) => bottleName ?? 'bottle');
    throw new PlainError(
      'lesson-which',
      `Feeds have taught something about ${names.length} bottles of sleeve ${sleeve}.`,
      `Say which one with --bottle: ${names.join(', ')}.`,
    );
  }
  const count = all ? history.corrections.length : 1;
  store.writeCalibrationHistories(
    withHistory(historiesFrom(store.readCalibrationHistories()), withoutLessons(history, count)),
  );
  return `Undone: ${counted(count, 'correction')} of sleeve ${sleeve}. It holds from the next start on; kept feeds stay as they were measured.`;
}
