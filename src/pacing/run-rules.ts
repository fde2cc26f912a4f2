/** Runs all rules for one step and fires each cue that is due. */

import { lower, type PatientCue, raise } from './active-cues.ts';
import { becauseAsleepEarly, becauseBurp, becauseFaded, becauseTiltDown } from './cues/because.ts';
import type { Cue, PacingInput } from './cues/cue.ts';
import type { Reason } from './cues/reason.ts';
import { noteEnoughAsked, stepFamilyRules } from './family-rules.ts';
import { BARE_GUIDANCE } from './guidance.ts';
import type { PacingState } from './pacing-state.ts';
import { dueBurpMl } from './rules/burps.ts';
import { type Fading, stepEnough } from './rules/enough.ts';
import { stepRefusals } from './rules/refusals.ts';
import { dueSwitchSide, noteWeighed } from './rules/switch-side.ts';
import { stepTiltDown } from './rules/tilt-down.ts';

export function lowerBoth({ seen, recorded }: PacingState, kind: PatientCue): void {
  lower(seen.active, kind);
  lower(recorded.active, kind);
}
export const pauseOf = ({ lastSuckAtSec, atSec }: PacingInput): number =>
  lastSuckAtSec === null ? Number.POSITIVE_INFINITY : atSec - lastSuckAtSec;
export function runRules(
  state: PacingState,
  input: PacingInput,
  stepSec: number,
  intakeMl: number,
  incrementMl: number,
): void {
  const { params } = state;
  const { atSec, teatInMouth, tiltDeg, suckCount } = input;
  const pauseSec = pauseOf(input);
  const feedSec = state.firstLatchSec === null ? 0 : atSec - state.firstLatchSec;

  const pace = stepTiltDown(state.tiltDown, input, stepSec, incrementMl, params.tiltDown);
  if (pace !== null)
    fire(state, {
      atSec,
      kind: 'tilt-down',
      because: becauseTiltDown(pace, atSec, input.quality !== 'good'),
    });

  const offered = teatInMouth && tiltDeg >= params.enough.offeredTiltDeg;
  const fading = stepEnough(state.enough, offered, suckCount, incrementMl, stepSec, params.enough);
  if (fading !== null) noteFading(state, fading, atSec, feedSec, suckCount);
  if (stepRefusals(state.refusals, teatInMouth, atSec, suckCount, intakeMl, params.enough)) {
    const { refusals } = params.enough;
    askEnough(state, atSec, { rule: 'refused', numbers: { refusals } }, suckCount);
    // The baby is awake, so the last burp may follow.
    if (state.burpParams === null)
      fire(state, { atSec, kind: 'burp', because: { rule: 'burp-at-the-end', numbers: { refusals } } });
  }

  if (state.burpParams !== null) {
    const burpMl = dueBurpMl(state.burps, intakeMl, pauseSec, params.suckPauseSec, state.burpParams);
    if (burpMl !== null) {
      fire(state, { atSec, kind: 'burp', because: becauseBurp(burpMl, pauseSec, params.suckPauseSec) });
    }
  }
  // The milk in the bottle counts from the first latch on: weights before it do not belong to the feed.
  if (state.firstLatchSec !== null && typeof input.milkMl === 'number')
    noteWeighed(state.switchSide, input.milkMl + intakeMl, params.switchSide);
  if (!state.recorded.active['offer-stop'].on) {
    const because = dueSwitchSide(state.switchSide, intakeMl, feedSec, pauseSec, params.suckPauseSec);
    if (because !== null) fire(state, { atSec, kind: 'switch-side', because });
  }
  if (state.guidance === BARE_GUIDANCE) return;
  const easing = state.tiltDown.active;
  const step = { input, intakeMl, incrementMl, feedSec, pauseSec, easing, poured: pace !== null };
  stepFamilyRules(state.family, state.guidance, step, params, (cue) => fire(state, cue));
}
/** Sucking has faded, so "enough?" is asked; for a newborn who falls asleep early `asleep-early` comes instead. */
function noteFading(state: PacingState, fading: Fading, atSec: number, feedSec: number, sucks: number): void {
  const { newbornDays, earlySec } = state.params.enough;
  const { babyAgeDays } = state.guidance;
  if (babyAgeDays !== null && babyAgeDays < newbornDays && feedSec < earlySec) {
    fire(state, { atSec, kind: 'asleep-early', because: becauseAsleepEarly(fading, feedSec) });
  } else askEnough(state, atSec, becauseFaded(fading), sucks);
}
function askEnough(state: PacingState, atSec: number, because: Reason, suckCount: number): void {
  fire(state, { atSec, kind: 'offer-stop', because });
  // A change of sides would continue a feed that may be over.
  lowerBoth(state, 'switch-side');
  state.sucksAtOfferStop = suckCount;
  noteEnoughAsked(state.family);
}
/** Records a cue and makes it active, unless its kind is off for this baby. */
function fire(state: PacingState, cue: Cue): void {
  const { kind } = cue;
  if (state.guidance.cuesOff.includes(kind)) return;
  const { out } = state;
  out.cues = out.cues.length === 0 ? [cue] : [...out.cues, cue];
  if (kind === 'tilt-down') return;
  const fired = { ...state.now };
  raise(state.seen.active, kind, fired);
  raise(state.recorded.active, kind, fired);
}
