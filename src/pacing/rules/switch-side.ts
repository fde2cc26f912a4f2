/** Change sides once, at the first suck pause after half of the portion, or, where a family asks for it, after some minutes without a portion. */
import type { PaceParams } from '../profile/profile.ts';

export interface SwitchSide {
  /** Intake at which to change, mL; null without a portion, and once it was cued. */
  atMl: number | null;
  /** Time since the first latch at which to change, seconds; null with a portion, unless asked for, and once it was cued. */
  atSec: number | null;
}

/** @param portionMl what the feed is planned to be, mL, or null; @param byTime whether to go by time without one */
export const createSwitchSide = (
  portionMl: number | null,
  params: PaceParams['switchSide'],
  byTime = false,
): SwitchSide => ({
  atMl: portionMl === null ? null : portionMl * params.portionShare,
  atSec: portionMl === null && byTime ? params.withoutPlanSec : null,
});

/**
 * @param feedSec time since the first latch, seconds; 0 before
 * @returns true in the one step in which the cue is due
 */
export function dueSwitchSide(
  side: SwitchSide,
  intakeMl: number,
  feedSec: number,
  pauseSec: number,
  suckPauseSec: number,
): boolean {
  const past =
    (side.atMl !== null && intakeMl >= side.atMl) || (side.atSec !== null && feedSec >= side.atSec);
  if (!past || pauseSec < suckPauseSec) return false;
  side.atMl = null;
  side.atSec = null;
  return true;
}
