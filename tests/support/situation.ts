/** An ordinary moment in a feed. */
import type { Situation } from '../../src/pacing/cues/lapse.ts';

export const SITUATION: Situation = {
  atSec: 0,
  intakeMl: 0,
  suckCount: 0,
  pauseSec: 0,
  outSec: 0,
  bottleEmpty: false,
  enoughShown: false,
  heldBack: false,
  tooFast: false,
  burps: 0,
  tiltDeg: 90,
  headMm: null,
  coverTiltDeg: null,
};
