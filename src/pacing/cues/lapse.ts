/**
 * When a cue that fired no longer makes sense, because milk, nipple or bottle changed while it waited behind another. The condition stands in its
 * record (cues.ts, `holds`); the cue is dropped in the step in which it ends, shown or not.
 */

import type { PaceParams } from '../profile/profile.ts';
import type { CueRecord } from './cue-record.ts';
import { CUES, type CueKind } from './cues.ts';

/** What the conditions of cues depend on, at one moment. */
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
  /** Milk came too fast and has not slowed down since. */
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

/** Below `under` the bottle counts as empty (the estimate may be 2 mL off), above `over` as filled again, mL. */
const EMPTY_ML = { under: 3, over: 8 };

/** @param milkMl  milk in the bottle; null or absent: unknown, so the answer stays as it was */
export function isEmptyNow(wasEmpty: boolean, milkMl: number | null | undefined): boolean {
  if (milkMl === null || milkMl === undefined || Number.isNaN(milkMl)) return wasEmpty;
  return milkMl < EMPTY_ML.under || (wasEmpty && milkMl <= EMPTY_ML.over);
}
