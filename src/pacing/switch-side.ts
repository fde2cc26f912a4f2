/** Change sides once, at the first suck pause after half of the portion; without a portion, never. */
import type { PaceParams } from './profile.ts';

export interface SwitchSide {
  /** Intake at which to change, mL; null without a portion, and once it was cued. */
  atMl: number | null;
}

/** @param portionMl what the feed is planned to be, mL, or null */
export const createSwitchSide = (portionMl: number | null, params: PaceParams['switchSide']): SwitchSide => ({
  atMl: portionMl === null ? null : portionMl * params.portionShare,
});

/** @returns true in the one step in which the cue is due */
export function dueSwitchSide(
  side: SwitchSide,
  intakeMl: number,
  pauseSec: number,
  suckPauseSec: number,
): boolean {
  if (side.atMl === null || intakeMl < side.atMl || pauseSec < suckPauseSec) return false;
  side.atMl = null;
  return true;
}
