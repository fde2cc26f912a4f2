/** Makes pacing inputs from sucks, 20 a second. */

import type { PacingInput, ShownCue } from '../../src/pacing/cues/cue.ts';
import {
  type Cue,
  createPacing,
  type Guidance,
  type PaceProfile,
  SHIPPED_PROFILE,
  stepPacing,
} from '../../src/pacing/index.ts';
import type { Suck } from './suck-trains.ts';

export const STEP_SEC = 0.05;

/** The nipple is out of the mouth between two times, with the bottle at `tiltDeg`. */
export interface Away {
  fromSec: number;
  toSec: number;
  tiltDeg: number;
}

export interface FeedPlan {
  /** In order of time. */
  sucks: readonly Suck[];
  endSec: number;
  /** Time between inputs; default STEP_SEC. */
  stepSec?: number;
  away?: readonly Away[];
  /** Share of sucks that the counter misses, and false ones a minute; none by default. */
  counter?: { missedShare: number; inventedPerMin: number; random: () => number };
}

/** @yields one input for each step: the same object each time, overwritten. Milk flows evenly during a suck. */
export function* inputsOf(plan: FeedPlan): Generator<PacingInput> {
  const { sucks, away = [], counter, endSec, stepSec = STEP_SEC } = plan;
  const seen = counter === undefined ? sucks.map((suck) => suck.atSec) : countedTimes(plan);
  const input: PacingInput = {
    atSec: 0,
    stepSec,
    intakeMl: 0,
    teatInMouth: true,
    tiltDeg: 90,
    suckCount: 0,
    lastSuckAtSec: null,
    quality: 'good',
    buttonDown: false,
  };
  let doneMl = 0;
  let open = 0;
  for (let step = 1; step * stepSec <= endSec; step += 1) {
    const atSec = step * stepSec;
    while (input.suckCount < seen.length && seen[input.suckCount]! <= atSec) {
      input.lastSuckAtSec = seen[input.suckCount]!;
      input.suckCount += 1;
    }
    while (open < sucks.length && sucks[open]!.atSec + sucks[open]!.lastsSec <= atSec) {
      doneMl += sucks[open]!.ml;
      open += 1;
    }
    const suck = sucks[open];
    const share = suck === undefined ? 0 : Math.max(0, (atSec - suck.atSec) / suck.lastsSec);
    const out = away.length === 0 ? undefined : away.find((one) => one.fromSec <= atSec && atSec < one.toSec);
    input.atSec = atSec;
    input.intakeMl = doneMl + share * (suck?.ml ?? 0);
    input.teatInMouth = out === undefined;
    input.tiltDeg = out?.tiltDeg ?? 90;
    yield input;
  }
}

function countedTimes({ sucks, counter, endSec }: FeedPlan): number[] {
  const { missedShare, inventedPerMin, random } = counter!;
  const times = sucks.filter(() => random() >= missedShare).map((suck) => suck.atSec);
  const invented = Math.round((inventedPerMin * endSec) / 60);
  for (let index = 0; index < invented; index += 1) times.push(random() * endSec);
  return times.sort((a, b) => a - b);
}

/** All inputs, each as an object of its own. */
export const inputList = (plan: FeedPlan): PacingInput[] =>
  Array.from(inputsOf(plan), (input) => ({ ...input }));

/** A constant flow, with a suck counted each second. */
export const evenMilk = (flowMlPerMin: number, toSec: number): FeedPlan => ({
  sucks: Array.from({ length: Math.ceil(toSec) }, (_, second) => ({
    atSec: second,
    lastsSec: 1,
    ml: flowMlPerMin / 60,
  })),
  endSec: toSec,
});

/** A time for which one thing was shown. */
export interface Shown {
  kind: ShownCue | null;
  fromSec: number;
}

/** Runs a feed. @returns its cues, and each change of what was shown */
export function pace(
  inputs: Iterable<PacingInput>,
  portionMl: number | null = null,
  { guidance, profile = SHIPPED_PROFILE }: { guidance?: Guidance; profile?: PaceProfile } = {},
): { cues: Cue[]; shown: Shown[] } {
  const state = createPacing(profile, { portionMl, ...(guidance && { guidance }) });
  const cues: Cue[] = [];
  const shown: Shown[] = [];
  for (const input of inputs) {
    const step = stepPacing(state, input);
    for (const cue of step.cues) cues.push(cue);
    if (step.showing !== (shown.at(-1)?.kind ?? null))
      shown.push({ kind: step.showing, fromSec: input.atSec });
  }
  return { cues, shown };
}
