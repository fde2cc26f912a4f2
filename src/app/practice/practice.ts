/** `ebbline start --practice`: it uses the calibrations of real feeds, the page shows that it is practice, and afterwards describes what was done. */
import { map } from 'rxjs';
import type { LiveFeed } from '../../feed/live/live.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import { techniqueOf, techniqueWords } from '../../pacing/index.ts';
import { openStore } from '../../store/open-store.ts';
import type { KnownCalibrations } from '../sleeve/sleeve-calibration.ts';
import type { TechniqueLines } from './practice-answers.ts';

/**
 * @param home      folder of the real feeds, read-only
 * @param practice  store of a calibration given now
 */
export function calibrationsBeside(home: string, practice: KnownCalibrations): KnownCalibrations {
  const ofReal = <T>(read: (real: KnownCalibrations) => T): T => {
    const real = openStore(home);
    try {
      return read(real);
    } finally {
      real.close();
    }
  };
  return {
    calibrationFor: (sleeveId) =>
      practice.calibrationFor(sleeveId) ?? ofReal((real) => real.calibrationFor(sleeveId)),
    calibrations: () => [...ofReal((real) => real.calibrations()), ...practice.calibrations()],
    keepCalibration: (...calibration) => practice.keepCalibration(...calibration),
  };
}

/** The same live feed, each view marked as practice. */
export const markedPractice = (live: LiveFeed): LiveFeed => ({
  view$: live.view$.pipe(map((view) => ({ ...view, practice: true }))),
  command: (command) => live.command(command),
  stop: () => live.stop(),
  changeSleeve: (sleeve) => live.changeSleeve(sleeve),
  keepRest: () => live.keepRest(),
});

/** Describes how an ended feed was given. Sucks are not used, since a doll has none. */
export function describeTechnique({ rows, events }: KeptFeed): TechniqueLines {
  const burpedAtSec = events.filter(({ kind }) => kind === 'burped').map(({ atSec }) => atSec);
  const technique = techniqueOf(rows, { burpedAtSec });
  return technique ? techniqueWords(technique) : {};
}
