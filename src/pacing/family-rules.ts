/** The rules that run only if a family or a clinician's plan turns them on; each has a file of its own. */

import { keysOf } from '../base/typed.ts';
import { ML_PER_US_FL_OZ } from '../base/units.ts';
import { pauseOrNull } from './cues/because.ts';
import type { Cue, PacingInput } from './cues/cue.ts';
import type { CueKind, Switch } from './cues/cues.ts';
import type { Reason } from './cues/reason.ts';
import type { Guidance } from './guidance.ts';
import type { PaceParams } from './profile/profile.ts';
import { type After, createAfter, noteEnough, stepAfter } from './rules/after.ts';
import { type Cover, createCover, stepCover } from './rules/cover.ts';
import { createFastNipple, type FastNipple, stepFastNipple } from './rules/fast-nipple.ts';
import { createLittleComing, type LittleComing, stepLittleComing } from './rules/little-coming.ts';
import { createLongFeed, type LongFeed, stepLongFeed } from './rules/long-feed.ts';
import { createSuckRhythm, type SuckRhythm, stepSuckRhythm } from './rules/suck-rhythm.ts';
import { dueSwitchSide, type SwitchSide } from './rules/switch-side.ts';

export interface FamilyRules {
  readonly rhythm: SuckRhythm;
  readonly cover: Cover;
  readonly little: LittleComing;
  readonly fastNipple: FastNipple;
  readonly long: LongFeed;
  readonly after: After;
  /** For burps half-way through the portion: the rule of `switch-side`, used a second time. */
  readonly halfWayBurp: SwitchSide;
}

export const createFamilyRules = (
  params: PaceParams,
  guidance: Guidance,
  portionMl: number | null,
): FamilyRules => ({
  rhythm: createSuckRhythm(),
  cover: createCover(),
  little: createLittleComing(params.littleComing),
  fastNipple: createFastNipple(),
  long: createLongFeed(),
  after: createAfter(),
  halfWayBurp: { atMl: halfWayMl(guidance, portionMl), atSec: null, awaitsWeight: false },
});

const halfWayMl = ({ burp, usualFeedMl }: Guidance, portionMl: number | null): number | null => {
  const wholeMl = portionMl ?? usualFeedMl;
  return burp === 'half-way-and-end' && wholeMl !== null ? wholeMl / 2 : null;
};

/**
 * Burps by volume as the family wants them.
 * @returns null where burps go by half-way, not by volume
 */
export function burpParams(
  params: PaceParams['burp'],
  guidance: Guidance,
  portionMl: number | null,
): PaceParams['burp'] | null {
  if (guidance.burp === 'half-ounce') return params;
  if (halfWayMl(guidance, portionMl) !== null) return null;
  // The AAP says every 2 to 3 fl oz (60 to 90 mL).
  const flOz = guidance.burp === 'two-ounces' ? 2 : 1;
  return { ...params, dueMl: flOz * ML_PER_US_FL_OZ, atMostMl: 1.5 * flOz * ML_PER_US_FL_OZ };
}

/** Values that several rules need in one step, computed once. */
export interface FamilyStep {
  input: PacingInput;
  intakeMl: number;
  incrementMl: number;
  feedSec: number;
  pauseSec: number;
  easing: boolean;
  /** A "too fast" cue fired in this step. */
  poured: boolean;
}

/** One step of the rules that are on; state is updated in place. Calls `fire` for each cue that is due. */
export function stepFamilyRules(
  rules: FamilyRules,
  guidance: Guidance,
  step: FamilyStep,
  params: PaceParams,
  fire: (cue: Cue) => void,
): void {
  const { atSec } = step.input;
  const cue: FireCue = (kind, because) => fire({ atSec, kind, because });
  for (const name of NAMES) if (guidance[name]) STEPS[name]?.(rules, step, params, cue);
  if (dueSwitchSide(rules.halfWayBurp, step.intakeMl, step.feedSec, step.pauseSec, params.suckPauseSec)) {
    cue('burp', { rule: 'burp-half-way', numbers: { pauseSec: pauseOrNull(step.pauseSec) } });
  }
}

type FireCue = (kind: CueKind, because: Reason) => void;
type StepRule = (rules: FamilyRules, step: FamilyStep, params: PaceParams, cue: FireCue) => void;

/** The rule of each switch; null: the rule runs elsewhere. */
const STEPS: Record<Switch, StepRule | null> = {
  suckRhythm: ({ rhythm }, { input, pauseSec }, { suckRhythm }, cue) => {
    const run = stepSuckRhythm(rhythm, input.suckCount, pauseSec, input.atSec, suckRhythm);
    if (run !== null && input.teatInMouth)
      cue('breath-pause', { rule: 'breath-pause', numbers: { sucks: run } });
  },
  // Part of the `switch-side` rule (pacing-state.ts).
  otherSideByTime: null,
  otherSideByWeight: null,
  cover: (rules, { input, easing }, params, cue) => {
    const hint = stepCover(rules.cover, input, easing, params.cover);
    if (hint === 'hole-dry') {
      cue(hint, { rule: hint, numbers: { depthMm: Math.round(-(input.headMm ?? 0)) } });
    } else if (hint !== null) {
      const coverTiltDeg = Math.round(input.coverTiltDeg ?? 0);
      cue(hint, { rule: hint, numbers: { tiltDeg: Math.round(input.tiltDeg), coverTiltDeg } });
    }
  },
  littleComing: (rules, step, params, cue) => stepLittle(rules, step, params, cue),
  fastNipple: ({ fastNipple }, { input: { tiltDeg, stepSec }, poured }, params, cue) => {
    if (stepFastNipple(fastNipple, poured, tiltDeg, stepSec, params.fastNipple)) {
      const numbers = { pours: fastNipple.pours, tiltDeg: Math.round(tiltDeg) };
      cue('fast-nipple', { rule: 'fast-nipple', numbers });
    }
  },
  longFeed: ({ long }, { input, feedSec }, { longFeed }, cue) => {
    if (stepLongFeed(long, input.teatInMouth, feedSec, longFeed))
      cue('long-feed', { rule: 'long-feed', numbers: { feedSec } });
  },
  after: ({ after }, { input: { teatInMouth, atSec } }, params, cue) => {
    const due = stepAfter(after, teatInMouth, atSec, params.after);
    if (due !== null) cue(due, { rule: 'after', numbers: { outSec: atSec - (after.outSinceSec ?? atSec) } });
  },
};
const NAMES = keysOf(STEPS);

/** "Enough?" was asked. */
export const noteEnoughAsked = (rules: FamilyRules): void => noteEnough(rules.after);

function stepLittle(
  rules: FamilyRules,
  { input, incrementMl, pauseSec, easing }: FamilyStep,
  params: PaceParams,
  cue: FireCue,
): void {
  const { headMm, coverTiltDeg, suckCount, stepSec, atSec, teatInMouth } = input;
  // A dry hole or a nearly empty bottle explains why little milk comes. Where the hole's state is unknown only the milk counts.
  const dry = (headMm !== undefined && headMm !== null && headMm < 0) || coverTiltDeg === null;
  const active = input.quality === 'good' && teatInMouth && !dry && !easing && pauseSec < params.suckPauseSec;
  const work = stepLittleComing(
    rules.little,
    active,
    suckCount,
    incrementMl,
    stepSec,
    atSec,
    params.littleComing,
  );
  if (work === null) return;
  const { activeSec, sucks, takenMl } = work;
  const numbers = { sucks: Math.round(sucks), activeSec, takenMl: Math.max(0, takenMl) };
  cue('little-coming', { rule: 'little-coming', numbers });
}
