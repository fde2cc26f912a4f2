/** What the commands about a sleeve do; those that talk to one or lead a walk have files of their own. */
import { calibrationsText, notedCalibrations, undoAsAsked } from '../../app/calibration/kept-calibrations.ts';
import { calibrationFrom } from '../../app/sleeve/calibration-file.ts';
import { shown } from '../print-out.ts';
import { type Kept, onStore } from '../with-store.ts';
import type { SleeveGiven, SleeveRuns } from './commands.ts';

const alone = () => import('./alone.ts');

export const runs: SleeveRuns = {
  'sleeve calibrate': async (given) => (await import('./calibrate.ts')).calibrate(given),
  'sleeve alone on': async (given) => (await alone()).guideAlone(given),
  'sleeve alone off': async (given) => (await alone()).stopGuidingAlone(given),
  'sleeve alone feeds': async (given) => (await alone()).fetchFeeds(given),
  'sleeve check': async (given) => (await import('./check.ts')).checkSleeve(given),
  'sleeve calibrations': onStore((store, given: SleeveGiven<'sleeve calibrations'> & Kept, folder) => {
    const { keep, undo, json } = given;
    if (keep !== undefined) {
      const calibration = calibrationFrom(keep);
      store.keepCalibration(calibration.sleeveId, calibration);
      return `The calibration of sleeve ${calibration.sleeveId} is kept in ${folder}.`;
    }
    if (undo !== undefined) return undoAsAsked(store, undo, given);
    return shown(json, notedCalibrations(store), calibrationsText);
  }),
};
