/** `ebbline sleeve calibrations`: lists stored calibrations with what later feeds found and corrected; undoes corrections. */
import { calibrationText, latestCalibrations, undoLessons } from '../../app/calibration/kept-calibrations.ts';
import { calibrationFrom } from '../../app/sleeve/calibration-file.ts';
import { counted } from '../../base/counted.ts';
import { historiesFrom, historyOf, withHistory } from '../../calibration/walk/history.ts';
import type { FeedStore } from '../../store/feed-store.ts';
import { say, sayJson } from '../print-out.ts';
import { withStore } from '../with-store.ts';

export interface CalibrationsOptions {
  /** Number of the sleeve whose last correction, or with `all` every correction, is undone. */
  undo?: string;
  /** Which of its bottles, if there are several. */
  bottle?: string;
  all?: boolean;
  /** A calibration file to store. */
  keep?: string;
  json?: boolean;
}

/** @throws PlainError lesson-none, lesson-which */
export async function calibrationsCommand(options: CalibrationsOptions): Promise<void> {
  const given = options.keep === undefined ? null : calibrationFrom(options.keep);
  await withStore({}, (store, folder) => {
    if (given) {
      store.keepCalibration(given.sleeveId, given);
      return say(`The calibration of sleeve ${given.sleeveId} is kept in ${folder}.`);
    }
    if (options.undo !== undefined) return undo(store, options.undo, options);
    const histories = historiesFrom(store.readCalibrationHistories());
    const all = latestCalibrations(store.calibrations()).map(({ sleeveId, calibration }) => ({
      sleeveId,
      calibration,
      notes: historyOf(histories, sleeveId, calibration),
    }));
    if (options.json) return sayJson(all);
    if (all.length === 0)
      return say(
        'No calibration is kept yet. Make one with "ebbline sleeve calibrate", then hand it to "ebbline start --calibration".',
      );
    return say(all.map((one) => calibrationText(one.sleeveId, one.calibration, one.notes)));
  });
}

function undo(store: FeedStore, sleeve: string, { bottle, all = false }: CalibrationsOptions): boolean {
  const kept = historiesFrom(store.readCalibrationHistories());
  const ours = latestCalibrations(store.calibrations())
    .filter(({ sleeveId }) => sleeveId === sleeve)
    .map(({ sleeveId, calibration }) => historyOf(kept, sleeveId, calibration))
    .filter((history) => bottle === undefined || history.bottleName === bottle);
  const count = undoLessons(ours, sleeve, all, (history) =>
    store.writeCalibrationHistories(withHistory(historiesFrom(store.readCalibrationHistories()), history)),
  );
  return say(
    `Undone: ${counted(count, 'correction')} of sleeve ${sleeve}. It holds from the next start on; kept feeds stay as they were measured.`,
  );
}
