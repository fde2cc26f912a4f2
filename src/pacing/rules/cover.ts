/**
 * How the bottle is held: "lower is fine" while it is steeper than the hole needs, "the hole is dry" while the baby sucks air. These are hints: a nipple
 * that empties in a pause is part of paced feeding. So they are suppressed for 10 s after the bottle was lowered (on a cue or not) and until sucking
 * resumes, and come at most every 3 minutes. Where no tilt covers the hole the bottle is nearly empty and nothing is said, since nobody should finish it.
 */
import type { PacingInput } from '../cues/cue.ts';
import type { PaceParams } from '../profile/profile.ts';

type CoverParams = PaceParams['cover'];
export type CoverHint = 'lower-is-fine' | 'hole-dry';

/** The usual tilt is the mean over this time, seconds. */
const USUAL_TILT_SEC = 10;

export interface Cover {
  usualTiltDeg: number | null;
  easedAtSec: number;
  sucksWhenEased: number;
  /** Duration of each condition, and the suck count when it began. */
  readonly steep: { sec: number; fromSuck: number };
  readonly dry: { sec: number; fromSuck: number };
  lastHintAtSec: number;
}

export const createCover = (): Cover => ({
  usualTiltDeg: null,
  easedAtSec: Number.NEGATIVE_INFINITY,
  sucksWhenEased: Number.NEGATIVE_INFINITY,
  steep: { sec: 0, fromSuck: 0 },
  dry: { sec: 0, fromSuck: 0 },
  lastHintAtSec: Number.NEGATIVE_INFINITY,
});

/** One step, in place. @param easing a cue to lower the bottle is active @returns the hint that is due in this step, or null */
export function stepCover(
  cover: Cover,
  input: PacingInput,
  easing: boolean,
  params: CoverParams,
): CoverHint | null {
  const { atSec, stepSec, tiltDeg, suckCount, teatInMouth, headMm, coverTiltDeg } = input;
  cover.usualTiltDeg ??= tiltDeg;
  const share = Math.min(1, stepSec / USUAL_TILT_SEC);
  cover.usualTiltDeg += share * (tiltDeg - cover.usualTiltDeg);
  if (easing || !teatInMouth || tiltDeg < cover.usualTiltDeg - params.easedDeg) {
    cover.easedAtSec = atSec;
    cover.sucksWhenEased = suckCount;
  }
  const known =
    input.quality === 'good' &&
    headMm !== undefined &&
    headMm !== null &&
    coverTiltDeg !== undefined &&
    coverTiltDeg !== null;
  const steep = known && headMm > params.coveredMm && tiltDeg > coverTiltDeg + params.steeperDeg;
  const dry = known && headMm < -params.dryMm;
  const muted = atSec - cover.easedAtSec < params.muteSec || suckCount - cover.sucksWhenEased < params.sucks;
  last(cover.steep, steep && !muted, stepSec, suckCount);
  last(cover.dry, dry && !muted, stepSec, suckCount);
  if (atSec - cover.lastHintAtSec < params.gapSec) return null;
  const due = lasted(cover.dry, suckCount, params)
    ? 'hole-dry'
    : lasted(cover.steep, suckCount, params)
      ? 'lower-is-fine'
      : null;
  if (due !== null) cover.lastHintAtSec = atSec;
  return due;
}

function last(one: Cover['dry'], goesOn: boolean, stepSec: number, suckCount: number): void {
  if (goesOn && one.sec > 0) one.sec += stepSec;
  else {
    one.sec = goesOn ? stepSec : 0;
    one.fromSuck = suckCount;
  }
}

const lasted = (one: Cover['dry'], suckCount: number, params: CoverParams): boolean =>
  one.sec >= params.lastsSec && suckCount - one.fromSuck >= params.sucks;
