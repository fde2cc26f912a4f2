/**
 * Change sides once, at the first suck pause after half of the portion. Where a family asks for it and no portion was typed in: after half of what the
 * sleeve weighed, or after some minutes, whichever comes first.
 */
import { pauseOrNull } from '../cues/because.ts';
import type { Reason } from '../cues/reason.ts';
import type { PaceParams } from '../profile/profile.ts';

export interface SwitchSide {
  /** Intake at which to change, mL; null while half is not known, and after the cue. */
  atMl: number | null;
  /** Time since the first latch at which to change, seconds; null with a known portion, if not asked for, and after the cue. */
  atSec: number | null;
  /** True while the weight may still set the half. */
  awaitsWeight: boolean;
}

/**
 * @param portionMl what the feed is planned to be, mL, or null
 * @param without the family's choice for feeds without a portion
 */
export const createSwitchSide = (
  portionMl: number | null,
  params: PaceParams['switchSide'],
  without: { otherSideByTime: boolean; otherSideByWeight: boolean },
): SwitchSide => ({
  atMl: portionMl === null ? null : portionMl * params.portionShare,
  atSec: portionMl === null && without.otherSideByTime ? params.withoutPlanSec : null,
  awaitsWeight: portionMl === null && without.otherSideByWeight,
});

/** @param wholeMl what was in the bottle as this feed began, mL; only the first one counts */
export function noteWeighed(side: SwitchSide, wholeMl: number, params: PaceParams['switchSide']): void {
  if (!side.awaitsWeight) return;
  side.awaitsWeight = false;
  if (wholeMl > 0) side.atMl = wholeMl * params.portionShare;
}

/**
 * @param feedSec time since the first latch, seconds; 0 before
 * @returns the reason in the one step in which the cue is due; else null
 */
export function dueSwitchSide(
  side: SwitchSide,
  intakeMl: number,
  feedSec: number,
  pauseSec: number,
  suckPauseSec: number,
): Reason | null {
  const isHalfWay = side.atMl !== null && intakeMl >= side.atMl;
  const isLate = side.atSec !== null && feedSec >= side.atSec;
  if ((!isHalfWay && !isLate) || pauseSec < suckPauseSec) return null;
  side.atMl = null;
  side.atSec = null;
  side.awaitsWeight = false;
  const pause = pauseOrNull(pauseSec);
  return isHalfWay
    ? { rule: 'switch-side', numbers: { takenMl: intakeMl, pauseSec: pause } }
    : { rule: 'switch-side-by-time', numbers: { feedSec, pauseSec: pause } };
}
