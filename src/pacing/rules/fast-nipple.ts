/**
 * Milk pours again and again though the bottle is held nearly level: then the nipple is too fast. Said once in a feed. Nearly level: our own choice, no source;
 * that names on packages do not tell how fast a nipple is: Pados, Park and Dodrill 2019, Adv Neonatal Care 19:32.
 */
import type { PaceParams } from '../profile/profile.ts';

export interface FastNipple {
  /** How long the bottle has been nearly level, seconds. */
  levelSec: number;
  /** "Too fast" cues that came while the bottle was nearly level. */
  pours: number;
}

export const createFastNipple = (): FastNipple => ({ levelSec: 0, pours: 0 });

/**
 * One step, in place.
 * @param poured  a "too fast" cue fired in this step
 * @returns true in the step in which it is due
 */
export function stepFastNipple(
  rule: FastNipple,
  poured: boolean,
  tiltDeg: number,
  stepSec: number,
  params: PaceParams['fastNipple'],
): boolean {
  rule.levelSec = tiltDeg <= params.levelDeg ? rule.levelSec + stepSec : 0;
  if (!poured || rule.levelSec < params.levelSec) return false;
  rule.pours += 1;
  return rule.pours === params.pours;
}
