/** Sucks: a suck is a rise of the pull along the axis that falls again by half. */
import type { Loads } from '../loads/loads.ts';
import { MOUTH, type MouthState, WINDOW_SLOTS } from './mouth.ts';

/** One sample's pull along the axis (N, suction positive), at about 80 Hz. Returns true when a suck has been confirmed. */
export function trackSuck(
  mouth: MouthState,
  pullN: number,
  { atSec, stepSec }: Pick<Loads, 'atSec' | 'stepSec'>,
): boolean {
  mouth.suckPull += (pullN - mouth.suckPull) * Math.min(1, stepSec / MOUTH.suckSmoothingSec);
  const pull = mouth.suckPull;
  if (!mouth.inMouth) {
    mouth.sucking = false;
    mouth.sucklessSec = 0;
    mouth.window.fill(pull);
    return false;
  }
  mouth.sucklessSec += stepSec;
  let confirmed = false;
  if (mouth.sucking) {
    if (pull > mouth.suckTop) mouth.suckTop = pull;
    const rise = mouth.suckTop - mouth.suckFloor;
    if (mouth.suckTop - pull > rise / 2) {
      confirmed = true;
      mouth.sucking = false;
      const apart = Math.abs(rise - mouth.suckAmplitudeN) / Math.max(0.05, mouth.suckAmplitudeN);
      mouth.suckUneven += 0.1 * (Math.min(1, apart) - mouth.suckUneven);
      mouth.suckAmplitudeN += 0.15 * (rise - mouth.suckAmplitudeN);
      mouth.sucklessSec = 0;
      mouth.suckCount += 1;
      mouth.lastSuckAtSec = mouth.suckStartSec;
      // Clear the window, or its old minimum would make a second suck from the same rise.
      mouth.window.fill(pull);
    } else if (atSec - mouth.suckStartSec > MOUTH.suckMaxSec) {
      mouth.sucking = false;
      mouth.window.fill(pull);
    }
  } else {
    let floor = pull;
    for (let i = 0; i < WINDOW_SLOTS; i++) if (mouth.window[i]! < floor) floor = mouth.window[i]!;
    const needed = Math.min(
      MOUTH.suckMaxRiseN,
      Math.max(MOUTH.suckMinRiseN, MOUTH.suckRiseShare * mouth.suckAmplitudeN),
    );
    if (pull - floor > needed && atSec - mouth.suckStartSec > MOUTH.suckMinIntervalSec) {
      const interval = atSec - mouth.suckStartSec;
      if (interval < 2) mouth.suckPeriodSec += 0.2 * (interval - mouth.suckPeriodSec);
      mouth.sucking = true;
      mouth.suckStartSec = atSec;
      mouth.suckFloor = floor;
      mouth.suckTop = pull;
      mouth.owedSucks = Math.min(1.5, mouth.owedSucks + 1);
    }
  }
  mouth.window[mouth.windowAt] = pull;
  mouth.windowAt = (mouth.windowAt + 1) % WINDOW_SLOTS;
  return confirmed;
}

/** Sucks cannot be distinguished from other forces of the mouth, so neither their count nor their milk is known. */
export const sucksAreFaint = (mouth: MouthState): boolean =>
  mouth.suckAmplitudeN < MOUTH.faintN ||
  (mouth.suckCount < MOUTH.seenSucks && mouth.sucklessSec > MOUTH.unseenSec);

/** The count of sucks may be far off: weak ones are missed, and a chewing jaw adds some. */
export const sucksAreUncertain = (mouth: MouthState): boolean =>
  sucksAreFaint(mouth) || mouth.suckUneven > MOUTH.unevenShare;

/** Milk of the next `stepSec` seconds in units of one suck; subtracts it from `owedSucks`. */
export function takeSuckUnits(mouth: MouthState, stepSec: number): number {
  const units = Math.min(mouth.owedSucks, stepSec / (MOUTH.suckFlowShare * mouth.suckPeriodSec));
  mouth.owedSucks -= units;
  return units;
}
