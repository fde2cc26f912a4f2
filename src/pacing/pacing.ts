/**
 * Pacing: what has been measured in, cues out. Pure, with state that each step updates in place: no clock, no
 * look-ahead. The same inputs give the same cues, live or replayed, whole or cut short.
 *
 * Every rule watches on its own and puts a cue into the record when it is true; `showing` is the one cue that light,
 * sound and page follow (order and until when in cues.ts, how seldom in quiet.ts). While there is no estimate nothing fires or shows, and
 * the buckets only drain; while it is degraded cues are softened (each where it is worked out). Without a family's guidance only the kinds of the sleeve contract fire.
 */
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
import { ageShown, lower, type PatientCue, type ActiveCues } from './active-cues.ts';

export { createPacing, type PacingState, type PacingStep } from './pacing-state.ts';

/**
 * One step, 20 times a second or more; `state` is updated in place.
 * An intake or a step that is not a number counts as no estimate; a step without a time is passed over.
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
    // An empty bottle that is put upright tells of no burp.
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

/** "Burped", from the page: the volume counts anew, a burp cue that stands is answered. */
export function noteBurped(state: PacingState, atSec: number): void {
  takeBurp(state.burps, state.lastIntakeMl, atSec);
  state.now.burps += 1;
  lowerBoth(state, 'burp');
}

/** A burp was taken by lifting the bottle: asked for, or unasked. */
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

/** From now on these neither fire nor show: somebody has said that this baby is not to have them. */
export function turnOff(state: PacingState, kinds: readonly CueKind[]): void {
  const { guidance } = state;
  state.guidance = { ...guidance, cuesOff: [...new Set([...guidance.cuesOff, ...kinds])] };
  for (const kind of kinds) if (kind !== 'tilt-down') lowerBoth(state, kind);
}

/** "Burped / seen", from the button. `tilt-down` is not dismissed by it: that ends when milk has slowed. */
function noteSeen(state: PacingState, atSec: number): void {
  noteBurped(state, atSec);
  lowerBoth(state, 'switch-side');
  lowerBoth(state, 'offer-stop');
  state.out.burpTaken = true;
}

/** @returns the one cue that has its turn in this step; it is shown for a while at most */
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

/** @param inARow  cues without slower milk between them @param inVain  of those, how many are enough to take the nipple out */
function pourCue(inARow: number, inVain: number): PourCue {
  if (inARow > inVain) return 'nipple-out';
  return inARow > 1 ? 'keep-low' : 'tilt-down';
}

/** Ends what the caregiver or the baby has answered. */
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
  // A hint is about this hold: over once the nipple is out, and for the bottle's tilt once it is to be lowered anyway.
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
