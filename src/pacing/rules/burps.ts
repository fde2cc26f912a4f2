/**
 * Burps by volume, after the sleeve contract, section 5. The volume counts from the last burp taken (nipple out for
 * 5 s or more with the bottle up, or the button), else from the last burp cue. The cue waits for a suck pause, until
 * twice the volume.
 */
import type { PacingInput } from '../cues/cue.ts';
import type { PaceParams } from '../profile/profile.ts';

export interface Burps {
  /** Intake from which the volume counts, mL. */
  fromMl: number;
  /** How long the nipple has been out with the bottle up, seconds. */
  upSec: number;
  /** When a burp was last taken, seconds; null before the first. */
  takenAtSec: number | null;
}

export const createBurps = (): Burps => ({ fromMl: 0, upSec: 0, takenAtSec: null });

/**
 * Detects that a burp was taken; state is updated in place.
 * @returns true in the one step in which a burp counts as taken
 */
export function stepBurpTaken(
  burps: Burps,
  { teatInMouth, tiltDeg, atSec }: Pick<PacingInput, 'teatInMouth' | 'tiltDeg' | 'atSec'>,
  stepSec: number,
  intakeMl: number,
  params: PaceParams['burp'],
): boolean {
  if (teatInMouth || !(tiltDeg < params.takenTiltDeg)) {
    burps.upSec = 0;
    return false;
  }
  const before = burps.upSec;
  burps.upSec += stepSec;
  if (burps.upSec < params.takenOutSec) return false;
  // Weighing the bottle now may still correct the intake, so the volume counts from the corrected intake.
  takeBurp(burps, intakeMl, atSec);
  return before < params.takenOutSec;
}

/** The part of a stored row, a practice recording or a trace that is needed here; rows are in order of time. */
export interface BurpRow {
  atSec: number;
  /** 0 upright, 90 level, 180 nipple down. */
  tiltDeg: number;
  teatInMouth: boolean;
}

/** @returns breaks of a feed, stored or practiced, that count as a burp by the rule of the live feed, each from its first row with the bottle up to its last */
export function burpsTaken(
  rows: readonly BurpRow[],
  params: PaceParams['burp'],
): { fromSec: number; toSec: number }[] {
  const burps = createBurps();
  const breaks: { fromSec: number; toSec: number }[] = [];
  let from: BurpRow | null = null;
  let before: BurpRow | null = null;
  for (const row of rows) {
    const isUp = !row.teatInMouth && row.tiltDeg < params.takenTiltDeg;
    const stepSec = isUp && from && before ? row.atSec - before.atSec : 0;
    if (isUp) from ??= row;
    else from = null;
    const isTaken = stepBurpTaken(burps, row, stepSec, 0, params);
    if (from && isTaken) breaks.push({ fromSec: from.atSec, toSec: row.atSec });
    else if (from && burps.upSec >= params.takenOutSec) breaks.at(-1)!.toSec = row.atSec;
    before = row;
  }
  return breaks;
}

/** A burp was taken: the volume counts anew from `intakeMl`. */
export function takeBurp(burps: Burps, intakeMl: number, atSec: number): void {
  burps.fromMl = intakeMl;
  burps.takenAtSec = atSec;
}

/**
 * @param pauseSec time without a suck, seconds
 * @returns the volume, mL, when a burp cue is due in this step, else null; the volume then starts anew
 */
export function dueBurpMl(
  burps: Burps,
  intakeMl: number,
  pauseSec: number,
  suckPauseSec: number,
  params: PaceParams['burp'],
): number | null {
  const volumeMl = intakeMl - burps.fromMl;
  if (volumeMl < params.dueMl) return null;
  if (pauseSec < suckPauseSec && volumeMl < params.atMostMl) return null;
  burps.fromMl = intakeMl;
  return volumeMl;
}
