/**
 * Pacing: what has been measured in, cues out. Pure, with state that each step updates in place: no clock, no
 * look-ahead. The same inputs give the same cues, live or replayed, whole or cut short.
 *
 * Every rule watches on its own and puts a cue into the record when it is true; `showing` is the one cue that light,
 * sound and page follow (order and reason in standing.ts). While the estimate isn't trusted nothing fires or shows,
 * and the buckets only drain.
 */
import { PlainError } from '../errors.ts';
import { becauseBurp, becauseOfferStop, becauseSwitchSide, becauseTiltDown } from './because.ts';
import { type Burps, createBurps, dueBurpMl, stepBurpTaken, takeBurp } from './burps.ts';
import { type Button, createButton, stepButton } from './button.ts';
import type { Cue, CueKind, PacingInput } from './cue.ts';
import { createEnough, type Enough, stepEnough } from './enough.ts';
import { type PaceParams, type PaceProfile, paceParams } from './profile.ts';
import {
  ageShown,
  createStanding,
  frontCue,
  lower,
  type PatientCue,
  raise,
  type StandingCues,
} from './standing.ts';
import { createSwitchSide, dueSwitchSide, type SwitchSide } from './switch-side.ts';
import { aheadShare, createTiltDown, drainTiltDown, stepTiltDown, type TiltDown } from './tilt-down.ts';

/** What one step gives. One object per state, overwritten by the next step: copy what must last. `cues` may be kept. */
export interface PacingStep {
  /** Fired in this step, as a rule none. */
  cues: readonly Cue[];
  /** The one cue to show now. */
  showing: CueKind | null;
  /** How far ahead of a gentle pace: 0 not at all, 1 at the mark where a cue comes, or beyond. */
  aheadOfPace: number;
  /** True in the step in which a burp counted as taken, by lifting the bottle or by the button. */
  burpTaken: boolean;
  /** True in the step in which the button had been held long enough to end the feed. */
  endRequested: boolean;
}

export interface PacingState {
  readonly params: PaceParams;
  readonly tiltDown: TiltDown;
  readonly burps: Burps;
  readonly switchSide: SwitchSide;
  readonly enough: Enough;
  readonly button: Button;
  readonly standing: StandingCues;
  readonly out: PacingStep;
  /** Intake at the first step; a feed's own count begins there. Null before. */
  startMl: number | null;
  /** This feed's intake at the step before, mL. */
  lastIntakeMl: number;
  teatWasInMouth: boolean;
  /** Suck count when `offer-stop` fired. */
  sucksAtOfferStop: number;
}

const NO_CUES: readonly Cue[] = Object.freeze([]);

/**
 * Starts the pacing of one feed.
 * @param feed portionMl: the planned portion, mL, or null; only `switch-side` rests on it
 * @throws PlainError PORTION_INVALID when the portion is not a positive number
 */
export function createPacing(profile: PaceProfile, feed: { portionMl: number | null }): PacingState {
  const { portionMl } = feed;
  if (portionMl !== null && !(portionMl > 0 && Number.isFinite(portionMl))) {
    throw new PlainError(
      'PORTION_INVALID',
      `The portion is ${portionMl} mL; it must be more than zero.`,
      'Give the portion in millilitres, or leave it out.',
    );
  }
  const params = paceParams(profile);
  return {
    params,
    tiltDown: createTiltDown(params),
    burps: createBurps(),
    switchSide: createSwitchSide(portionMl, params.switchSide),
    enough: createEnough(params.enough),
    button: createButton(),
    standing: createStanding(),
    out: { cues: NO_CUES, showing: null, aheadOfPace: 0, burpTaken: false, endRequested: false },
    startMl: null,
    lastIntakeMl: 0,
    teatWasInMouth: false,
    sucksAtOfferStop: 0,
  };
}

/**
 * One step, 20 times a second or more; `state` is updated in place.
 * An intake or a step that is not a number counts as not trusted; a step without a time is passed over.
 */
export function stepPacing(state: PacingState, input: PacingInput): PacingStep {
  const { params, out, tiltDown } = state;
  const { atSec } = input;
  out.cues = NO_CUES;
  out.burpTaken = false;
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
  if (stepBurpTaken(state.burps, input, stepSec, intakeMl, params.burp)) {
    out.burpTaken = true;
    lower(state.standing, 'burp');
  }

  const trusted = input.trusted && measured;
  if (trusted) runRules(state, input, stepSec, intakeMl, incrementMl);
  else {
    drainTiltDown(tiltDown, input, stepSec);
    stepEnough(state.enough, false, input.suckCount, 0, stepSec, params.enough);
  }
  endAnswered(state, input);
  state.teatWasInMouth = input.teatInMouth;

  out.showing = trusted ? frontCue(state.standing, tiltDown.standing && input.teatInMouth) : null;
  if (out.showing !== null && out.showing !== 'tilt-down') {
    ageShown(state.standing, out.showing, stepSec, showSec(params, out.showing));
  }
  out.aheadOfPace = Math.min(1, aheadShare(tiltDown));
  return out;
}

/** "Burped", from the page: the volume counts anew, a burp cue that stands is answered. */
export function noteBurped(state: PacingState, atSec: number): void {
  takeBurp(state.burps, state.lastIntakeMl, atSec);
  lower(state.standing, 'burp');
}

/** "Burped / seen", from the button. `tilt-down` is not dismissed by it: that ends when milk has slowed. */
function noteSeen(state: PacingState, atSec: number): void {
  noteBurped(state, atSec);
  lower(state.standing, 'switch-side');
  lower(state.standing, 'offer-stop');
  state.out.burpTaken = true;
}

function runRules(
  state: PacingState,
  input: PacingInput,
  stepSec: number,
  intakeMl: number,
  incrementMl: number,
): void {
  const { params, standing, out } = state;
  const { atSec, teatInMouth, tiltDeg, suckCount, lastSuckAtSec } = input;
  const pauseSec = lastSuckAtSec === null ? Number.POSITIVE_INFINITY : atSec - lastSuckAtSec;

  const pace = stepTiltDown(state.tiltDown, input, stepSec, incrementMl, params.tiltDown);
  if (pace !== null) record(out, { atSec, kind: 'tilt-down', because: becauseTiltDown(pace, atSec) });

  const offered = teatInMouth && tiltDeg >= params.enough.offeredTiltDeg;
  const fading = stepEnough(state.enough, offered, suckCount, incrementMl, stepSec, params.enough);
  if (fading !== null) {
    record(out, { atSec, kind: 'offer-stop', because: becauseOfferStop(fading) });
    raise(standing, 'offer-stop');
    // Changing arms would carry on a feed that may be over.
    lower(standing, 'switch-side');
    state.sucksAtOfferStop = suckCount;
  }

  const burpMl = dueBurpMl(state.burps, intakeMl, pauseSec, params.suckPauseSec, params.burp);
  if (burpMl !== null) {
    record(out, { atSec, kind: 'burp', because: becauseBurp(burpMl, pauseSec, params.suckPauseSec) });
    raise(standing, 'burp');
  }

  if (
    !standing['offer-stop'].on &&
    dueSwitchSide(state.switchSide, intakeMl, pauseSec, params.suckPauseSec)
  ) {
    record(out, { atSec, kind: 'switch-side', because: becauseSwitchSide(intakeMl, pauseSec) });
    raise(standing, 'switch-side');
  }
}

/** Ends what the caregiver or the baby has answered. */
function endAnswered(state: PacingState, input: PacingInput): void {
  const { standing, params } = state;
  const side = standing['switch-side'];
  const latched = input.teatInMouth && !state.teatWasInMouth;
  if (side.on && latched && side.shownSec >= params.switchSide.seenSec) side.on = false;

  const stop = standing['offer-stop'];
  const sucking = input.suckCount - state.sucksAtOfferStop >= params.enough.resumedSucks;
  const takenOut = !input.teatInMouth && stop.shownSec >= params.switchSide.seenSec;
  if (stop.on && (sucking || takenOut)) stop.on = false;
}

function showSec(params: PaceParams, kind: PatientCue): number {
  if (kind === 'burp') return params.burp.showSec;
  return kind === 'switch-side' ? params.switchSide.showSec : params.enough.showSec;
}

function record(out: PacingStep, cue: Cue): void {
  out.cues = out.cues.length === 0 ? [cue] : [...out.cues, cue];
}
