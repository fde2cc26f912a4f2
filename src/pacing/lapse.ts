/**
 * When a cue that has fired no longer makes sense: it may have waited behind another while milk, nipple or bottle went on. One row for each kind says what
 * must be so for its words to be true; a cue is dropped in the step in which that is over, shown or not. Figures are the project's own choice, no source.
 */
import type { CueKind } from './cue.ts';
import type { PaceParams } from './profile.ts';

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

interface Sense {
  holds: (then: Situation, now: Situation, params: PaceParams) => boolean;
  /** Its words bring more milk: never with an empty bottle, once "enough?" was shown, or where cues are held back. */
  bringsMilk?: true;
}

/** A moment that has passed: older than this, a cue needs its condition anew. */
export const MOMENT_SEC = 30;
/** With so much more milk the middle of the feed is past; half an ounce, as from burp to burp. */
const PAST_ML = 15;

const isIn = ({ outSec }: Situation): boolean => outSec === 0;

/** Nothing has told since that the baby is still hungry. */
const stillFaded: Sense['holds'] = (then, now, { enough }) =>
  now.suckCount - then.suckCount < enough.resumedSucks && now.intakeMl - then.intakeMl < enough.takenMl;

export const SENSE = {
  'tilt-down': { holds: (_then, now) => now.tooFast && isIn(now) },
  // With the nipple out and nothing in the bottle, she has stopped.
  'offer-stop': {
    holds: (then, now, params) => stillFaded(then, now, params) && (isIn(now) || !now.bottleEmpty),
  },
  'asleep-early': {
    holds: (then, now, params) => stillFaded(then, now, params) && now.outSec <= MOMENT_SEC,
  },
  'breath-pause': {
    holds: (_then, now, { suckRhythm }) =>
      isIn(now) && now.pauseSec < suckRhythm.pauseSec && !now.bottleEmpty,
  },
  burp: { holds: (then, now) => now.burps === then.burps },
  // With the nipple out it may join a burp; later, nobody is asked to go on.
  'switch-side': {
    holds: (then, now) =>
      !now.bottleEmpty &&
      !now.enoughShown &&
      now.intakeMl - then.intakeMl <= PAST_ML &&
      now.outSec <= MOMENT_SEC,
  },
  'lower-is-fine': {
    holds: (_then, now) =>
      isIn(now) && !now.tooFast && now.coverTiltDeg !== null && now.tiltDeg > now.coverTiltDeg,
  },
  'hole-dry': {
    holds: (_then, now) =>
      isIn(now) &&
      !now.tooFast &&
      now.pauseSec <= MOMENT_SEC &&
      now.coverTiltDeg !== null &&
      now.headMm !== null &&
      now.headMm < 0,
    bringsMilk: true,
  },
  'little-coming': {
    holds: (then, now, { littleComing }) =>
      isIn(now) &&
      !now.bottleEmpty &&
      now.pauseSec <= MOMENT_SEC &&
      now.intakeMl - then.intakeMl <= 1 + (littleComing.underMlPerMin * (now.atSec - then.atSec)) / 60,
  },
  'long-feed': { holds: (_then, now) => isIn(now) },
  'hold-upright': { holds: (_then, now) => !isIn(now) },
  'hunger-again': { holds: (_then, now) => !isIn(now) },
} as const satisfies Record<CueKind, Sense>;

/** @param then  when it fired @returns false when it is to be dropped */
export function stillHolds(kind: CueKind, then: Situation, now: Situation, params: PaceParams): boolean {
  const { holds, bringsMilk }: Sense = SENSE[kind];
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
