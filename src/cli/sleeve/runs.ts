/** What the commands about a sleeve do; those that talk to one or lead a walk have files of their own. */
import { calibrationText, notedCalibrations, undoAsAsked } from '../../app/calibration/kept-calibrations.ts';
import { calibrationFrom } from '../../app/sleeve/calibration-file.ts';
import { counted } from '../../base/counted.ts';
import { shown } from '../print-out.ts';
import { onStore } from '../with-store.ts';
import type { SleeveRuns } from './commands.ts';

const loadAlone = () => import('./alone.ts');

export const runs: SleeveRuns = {
  'sleeve calibrate': async (given) => (await import('./calibrate.ts')).calibrate(given),
  'sleeve alone on': async (given) => (await loadAlone()).letGuideAlone(given),
  'sleeve alone off': async (given) => (await loadAlone()).stopGuidingAlone(given),
  'sleeve alone feeds': async (given) => (await loadAlone()).fetchFeeds(given),
  'sleeve check': async (given) => (await import('./check.ts')).checkSleeve(given),
  'sleeve calibrations': async ({ undo, keep, ...given }) => {
    const file = keep === undefined ? null : calibrationFrom(keep);
    await onStore((store, _given, folder) => {
      if (file) {
        store.keepCalibration(file.sleeveId, file);
        return `The calibration of sleeve ${file.sleeveId} is kept in ${folder}.`;
      }
      if (undo !== undefined)
        return `Undone: ${counted(undoAsAsked(store, undo, given), 'correction')} of sleeve ${undo}. It holds from the next start on; kept feeds stay as they were measured.`;
      return shown(given.json, notedCalibrations(store), (all) =>
        all.length === 0
          ? 'No calibration is kept yet. Make one with "ebbline sleeve calibrate", then hand it to "ebbline start --calibration".'
          : all.map((one) => calibrationText(one.sleeveId, one.calibration, one.notes)),
      );
    })({});
  },
};
