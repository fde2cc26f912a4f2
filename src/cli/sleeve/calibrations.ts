/** `ebbline sleeve calibrations`: lists stored calibrations with what later feeds found and corrected; undoes corrections. */
import { calibrationText, notedCalibrations, undoAsAsked } from '../../app/calibration/kept-calibrations.ts';
import { calibrationFrom } from '../../app/sleeve/calibration-file.ts';
import { counted } from '../../base/counted.ts';
import { answer, say } from '../print-out.ts';
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
export async function calibrationsCommand({ undo, keep, ...options }: CalibrationsOptions): Promise<void> {
  const given = keep === undefined ? null : calibrationFrom(keep);
  await withStore({}, (store, folder) => {
    if (given) {
      store.keepCalibration(given.sleeveId, given);
      return say(`The calibration of sleeve ${given.sleeveId} is kept in ${folder}.`);
    }
    return undo === undefined
      ? answer(options.json, notedCalibrations(store), (all) =>
          all.length === 0
            ? 'No calibration is kept yet. Make one with "ebbline sleeve calibrate", then hand it to "ebbline start --calibration".'
            : all.map((one) => calibrationText(one.sleeveId, one.calibration, one.notes)),
        )
      : say(
          `Undone: ${counted(undoAsAsked(store, undo, options), 'correction')} of sleeve ${undo}. It holds from the next start on; kept feeds stay as they were measured.`,
        );
  });
}
