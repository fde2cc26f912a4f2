/** `ebbline start --practice`: the calibrations of real feeds are known, and the page says that it is practice. */
import { map } from 'rxjs';
import type { LiveFeed } from '../feed/live.ts';
import { openStore } from '../store/feed-store.ts';
import type { KnownCalibrations } from './sleeves.ts';

/**
 * @param home      folder of the real feeds, only read
 * @param practice  where a calibration that is given now is kept
 */
export function calibrationsBeside(home: string, practice: KnownCalibrations): KnownCalibrations {
  const calibrationFor: KnownCalibrations['calibrationFor'] = (sleeveId) => {
    const kept = practice.calibrationFor(sleeveId);
    if (kept) return kept;
    const real = openStore(home);
    try {
      return real.calibrationFor(sleeveId);
    } finally {
      real.close();
    }
  };
  return {
    calibrationFor,
    keepCalibration: (...calibration) => practice.keepCalibration(...calibration),
  };
}

/** The same live feed, each view marked as practice. */
export const markedPractice = (live: LiveFeed): LiveFeed => ({
  view$: live.view$.pipe(map((view) => ({ ...view, practice: true }))),
  command: (command) => live.command(command),
  stop: () => live.stop(),
});
