/**
 * Pacing: measured values in, cues out. Pure; each step updates the state in place. It has no clock and does not look
 * ahead. The same inputs give the same cues, live or replayed, whole or cut short.
 *
 * Each rule records its cue when it becomes true; `showing` is the one cue that light, sound and page follow (order
 * and duration in cues.ts, limits in quiet.ts). While there is no estimate nothing fires or shows and the buckets only drain; while it is degraded
 * cues are limited as each rule says. Without a family's guidance only the cues of the sleeve contract fire.
 */

import { type ActiveCues, ageShown, lower, type PatientCue } from './active-cues.ts';
import type { PacingInput } from './cues/cue.ts';
import { CUES, type CueKind } from './cues/cues.ts';
import { isEmptyNow, stillHolds } from './cues/lapse.ts';
import { NO_CUES, type PacingState, type PacingStep, type Turns } from './pacing-state.ts';
import { stepBurpTaken, takeBurp } from './rules/burps.ts';
import { stepButton } from './rules/button.ts';
import { stepEnough } from './rules/enough.ts';
import { type Circumstances, isPour, type PourCue, stepQuiet, type TurnCue } from './rules/quiet.ts';
import { stepSteepHold } from './rules/steep-hold.ts';
import { aheadShare, drainTiltDown } from './rules/tilt-down.ts';
import { lowerBoth, pauseOf, runRules } from './run-rules.ts';

export { createPacing, type PacingState, type PacingStep } from './pacing-state.ts';

/**
 * One step, 20 times a second or more; `state` is updated in place.
 * An intake or a step that is not a number counts as no estimate; a step whose time is not a number is skipped.
 */
export function stepPacing(state: PacingState, input: PacingInput): PacingStep {
  const { params, out, tiltDown } = state;
  const { atSec } = input;
  out.cues = NO_CUES;
  out.burpTaken = false;
  out.heldSteeply = false;
  out.endRequested = false;
  if (!Number.isFinite(atSec)) {
    out.showing = null;
    return out;
  }

  const stepSec = input.stepSec > 0 && Number.isFinite(input.stepSec) ? input.stepSec : 0;
  const measured = stepSec > 0 && Number.isFinite(input.intakeMl);
  if (measured) state.startMl ??= input.intakeMl;
  const intakeMl = measured ? input.intakeMl - (state.startMl ?? 0) : state.lastIntakeMl;
  const incrementMl = intakeMl - state.lastIntakeMl;
  state.lastIntakeMl = intakeMl;

  const pressed = stepButton(state.button, input.buttonDown, atSec, params.button.longPressSec);
  if (pressed === 'press') noteSeen(state, atSec);
  out.endRequested = pressed === 'long-press';
  if (input.teatInMouth) state.firstLatchSec ??= atSec;
  noteSituation(state, input, stepSec, intakeMl);
  if (stepBurpTaken(state.burps, input, stepSec, intakeMl, params.burp)) {
    out.burpTaken = true;
    noteLifted(state.recorded, intakeMl);
    // Putting an empty bottle upright is not a burp.
    if (!state.now.bottleEmpty) {
      noteLifted(state.seen, intakeMl);
      state.now.burps += 1;
    }
  }

  const believed = input.quality !== 'none' && measured;
  if (believed) runRules(state, input, stepSec, intakeMl, incrementMl);
  else {
    drainTiltDown(tiltDown, input, stepSec);
    stepEnough(state.enough, false, input.suckCount, 0, stepSec, params.enough);
  }
  state.now.tooFast = tiltDown.active;
  endAnswered(state, state.seen.active, input);
  endAnswered(state, state.recorded.active, input);
  state.teatWasInMouth = input.teatInMouth;

  out.showing = null;
  if (believed) {
    takeTurn(state, state.recorded, input, stepSec, { bottleEmpty: false, holds: () => true });
    const shown = takeTurn(state, state.seen, input, stepSec, {
      bottleEmpty: state.now.bottleEmpty,
      holds: (kind) => holdsNow(state, kind),
    });
    if (shown === 'offer-stop') state.now.enoughShown = true;
    out.showing = shown === 'burp' && state.now.bottleEmpty ? 'last-burp' : shown;
  }
  out.heldSteeply = believed && stepSteepHold(state.steepHold, input, stepSec, out.showing, params.steepHold);
  const isPaced = !state.guidance.cuesOff.includes('tilt-down');
  out.aheadOfPace = isPaced ? Math.min(1, aheadShare(tiltDown)) : null;
  return out;
}

/** "Burped" on the page: the burp volume starts anew, and an active burp cue is answered. */
export function noteBurped(state: PacingState, atSec: number): void {
  takeBurp(state.burps, state.lastIntakeMl, atSec);
  state.now.burps += 1;
  lowerBoth(state, 'burp');
}

/** The bottle was lifted for a burp, asked for or not. */
function noteLifted(turns: Turns, intakeMl: number): void {
  const { burp } = turns.active;
  turns.ownBurpMl = burp.shownSec > 0 && burp.on ? null : intakeMl;
  lower(turns.active, 'burp');
}

function noteSituation(state: PacingState, input: PacingInput, stepSec: number, intakeMl: number): void {
  const { now, guidance } = state;
  now.atSec = input.atSec;
  now.intakeMl = intakeMl;
  now.suckCount = input.suckCount;
  now.pauseSec = pauseOf(input);
  now.outSec = input.teatInMouth ? 0 : now.outSec + stepSec;
  now.heldBack = guidance.cuesOff.includes('tilt-down');
  now.tiltDeg = input.tiltDeg;
  now.headMm = input.headMm ?? null;
  now.coverTiltDeg = input.coverTiltDeg ?? null;
  if (input.quality !== 'none') now.bottleEmpty = isEmptyNow(now.bottleEmpty, input.milkMl);
}

function holdsNow({ seen, now, params }: PacingState, kind: PatientCue): boolean {
  const { fired } = seen.active[kind];
  return fired !== null && stillHolds(kind, fired, now, params);
}

/** These kinds neither fire nor show from now on, since this baby must not have them. */
export function turnOff(state: PacingState, kinds: readonly CueKind[]): void {
  const { guidance } = state;
  state.guidance = { ...guidance, cuesOff: [...new Set([...guidance.cuesOff, ...kinds])] };
  for (const kind of kinds) if (kind !== 'tilt-down') lowerBoth(state, kind);
}

/** The button's "burped / seen". It does not dismiss `tilt-down`, which ends when milk has slowed down. */
function noteSeen(state: PacingState, atSec: number): void {
  noteBurped(state, atSec);
  lowerBoth(state, 'switch-side');
  lowerBoth(state, 'offer-stop');
  state.out.burpTaken = true;
}

/** @returns the one cue to show in this step; each is shown for a limited time */
function takeTurn(
  state: PacingState,
  turns: Turns,
  input: PacingInput,
  stepSec: number,
  lapse: Pick<Circumstances, 'bottleEmpty' | 'holds'>,
): TurnCue | null {
  const { params, tiltDown, now } = state;
  const { atSec, teatInMouth } = input;
  const { intakeMl, pauseSec } = now;
  const dueMl = state.burpParams?.dueMl ?? 0;
  const hasRoom = turns.ownBurpMl !== null && intakeMl - turns.ownBurpMl < dueMl + params.quiet.ownBurpRoomMl;
  const isTooFast = stillHolds('tilt-down', now, now, params) && !now.heldBack;
  const chosen = stepQuiet(turns.quiet, turns.active, {
    atSec,
    teatInMouth,
    pauseSec,
    suckPauseSec: params.suckPauseSec,
    tooFast: isTooFast ? pourCue(tiltDown.inARow, params.tiltDown.nippleOutAfter) : null,
    burpHeld: (hasRoom && !lapse.bottleEmpty) || pauseSec >= params.burp.asleepSec,
    ...lapse,
  });
  if (chosen !== null && !isPour(chosen)) {
    ageShown(turns.active, chosen, stepSec, params[CUES[chosen].shows].showSec);
  }
  return chosen;
}

/** @param inARow  number of cues without slower milk between them @param inVain  number of those after which the nipple should come out */
function pourCue(inARow: number, inVain: number): PourCue {
  if (inARow > inVain) return 'nipple-out';
  return inARow > 1 ? 'keep-low' : 'tilt-down';
}

/** Ends cues that the caregiver or the baby has answered. */
function endAnswered(state: PacingState, active: ActiveCues, input: PacingInput): void {
  const { params } = state;
  const side = active['switch-side'];
  const latched = input.teatInMouth && !state.teatWasInMouth;
  if (side.on && latched && side.shownSec >= params.switchSide.seenSec) side.on = false;

  const stop = active['offer-stop'];
  const sucking = input.suckCount - state.sucksAtOfferStop >= params.enough.resumedSucks;
  const takenOut = !input.teatInMouth && stop.shownSec >= params.switchSide.seenSec;
  if (stop.on && (sucking || takenOut)) stop.on = false;
  const breath = active['breath-pause'];
  if (breath.on && pauseOf(input) >= params.suckRhythm.pauseSec) breath.on = false;
  // A hint concerns the present hold: it ends when the nipple is out; one about the tilt also when the bottle is to be lowered anyway.
  if (!input.teatInMouth) {
    lower(active, 'little-coming');
    lower(active, 'long-feed');
  }
  if (!input.teatInMouth || state.tiltDown.active) {
    lower(active, 'lower-is-fine');
    lower(active, 'hole-dry');
  }
  const early = active['asleep-early'];
  if (early.on && !input.teatInMouth && early.shownSec > 0) early.on = false;
}
