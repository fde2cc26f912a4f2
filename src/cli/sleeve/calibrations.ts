/** `ebbline sleeve calibrations`: which are kept, what feeds have found and taught since; and undoing that. */
import { calibrationText, notedCalibrations, undoAsAsked } from '../../app/calibration/kept-calibrations.ts';
import { counted } from '../../base/counted.ts';
import { answer, say } from '../print-out.ts';
import { withStore } from '../with-store.ts';

export interface CalibrationsOptions {
  /** Number of the sleeve whose last lesson, or with `all` every lesson, is undone. */
  undo?: string;
  /** Which of its bottles, where there are several. */
  bottle?: string;
  all?: boolean;
  json?: boolean;
}

/** @throws PlainError lesson-none, lesson-which */
export const calibrationsCommand = ({ undo, ...options }: CalibrationsOptions): Promise<void> =>
  withStore({}, (store) =>
    undo === undefined
      ? answer(options.json, notedCalibrations(store), (all) =>
          all.length === 0
            ? 'No calibration is kept yet. Make one with "ebbline sleeve calibrate", then hand it to "ebbline start --calibration".'
            : all.map((one) => calibrationText(one.sleeveId, one.calibration, one.notes)),
        )
      : say(
          `Undone: ${counted(undoAsAsked(store, undo, options), 'correction')} of sleeve ${undo}. It holds from the next start on; kept feeds stay as they were measured.`,
        ),
  );
