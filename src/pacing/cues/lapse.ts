/**
 * When a cue that has fired no longer makes sense: it may have waited behind another while milk, nipple or bottle went on. What must be so for its words to
 * be true stands in its record (cues.ts, `holds`); a cue is dropped in the step in which that is over, shown or not.
 */

import type { PaceParams } from '../profile/profile.ts';
import type { CueRecord } from './cue-record.ts';
import { CUES, type CueKind } from './cues.ts';

/** What a cue's sense rests on, at one moment. */
export interface Situation {
  atSec: number;
  intakeMl: number;
  suckCount: number;
  /** Time without a suck, seconds. */
  pauseSec: number;
  /** How long the nipple has been out of the mouth, seconds; 0 while it is in. */
  outSec: number;
  bottleEmpty: boolean;
  /** "Enough?" was shown in this feed. */
  enoughShown: boolean;
  /** "Slower" and "enough" are off for this baby. */
  heldBack: boolean;
  /** Milk came too fast and has not slowed since. */
  tooFast: boolean;
  /** Burps taken so far. */
  burps: number;
  tiltDeg: number;
  /** As in `PacingInput`; null while unknown. */
  headMm: number | null;
  coverTiltDeg: number | null;
}

/** @param then  when it fired @returns false when it is to be dropped */
export function stillHolds(kind: CueKind, then: Situation, now: Situation, params: PaceParams): boolean {
  const { holds, bringsMilk }: CueRecord = CUES[kind];
  const isOver = now.bottleEmpty || now.enoughShown || now.heldBack;
  return holds(then, now, params) && !(bringsMilk && isOver);
}

/** Under this the bottle is as good as empty (the estimate of the milk in it may be 2 mL off), and above the other it was filled again, mL. */
const EMPTY_ML = { under: 3, over: 8 };

/** @param milkMl  milk in the bottle; null or absent: unknown, so nothing has changed */
export function isEmptyNow(wasEmpty: boolean, milkMl: number | null | undefined): boolean {
  if (milkMl === null || milkMl === undefined || Number.isNaN(milkMl)) return wasEmpty;
  return milkMl < EMPTY_ML.under || (wasEmpty && milkMl <= EMPTY_ML.over);
}
