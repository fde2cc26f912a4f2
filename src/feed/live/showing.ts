/** Decides what to show now, without flicker. Pure: state and input in, state and one answer out. */
import { mayBeWithheld, type ShownCue } from '../../pacing/cues/shown-cues.ts';
import type { Showing } from './live-view.ts';

export interface ShowingInput {
  /** Time of the host's scheduler, ms; only differences count. */
  nowMs: number;
  fresh: boolean;
  /** The link has delivered everything and its feed is stored or being stored: nothing is missing. */
  isOver?: boolean;
  feedOpen: boolean;
  guidanceOff: boolean;
  /** A study feed: cues about the practice of pacing are not shown. */
  withheld?: boolean;
  cue: ShownCue | null;
  /** The steep hold is to be said; only where there is no cue. */
  heldSteeply: boolean;
  invalid: boolean;
}

export interface ShowingState {
  showing: Showing;
  sinceMs: number;
}

/** "Can't tell" and "no guidance" stay until their cause has been gone for this long; a cue may end them at once. */
export const CALM_HOLD_MS = 5000;
/** An estimate may be in doubt for this long before it is said: a knock is shorter. */
export const DOUBT_MS = 700;
/** An estimate is used again after this long without doubt: near a limit the doubt may come and go many times a second. */
export const TRUST_MS = 1000;

export interface ShowingStep extends ShowingState {
  /** The present or a recent doubt: its first and its latest moment; null: none. */
  doubt: { sinceMs: number; lastMs: number } | null;
  /** When the cause of the trouble that is shown was last present. */
  troubleMs: number;
  /** Whether the sleeve was ever heard. Before that the first sample ends the trouble at once. */
  wasHeard: boolean;
}

export const SHOWING_START: ShowingStep = {
  showing: 'waiting',
  sinceMs: 0,
  doubt: null,
  troubleMs: 0,
  wasHeard: false,
};

const isTrouble = (showing: Showing): boolean => showing === 'cannot-tell' || showing === 'no-guidance';

export function stepShowing(before: ShowingStep, input: ShowingInput): ShowingStep {
  const { nowMs } = input;
  const doubt = doubtNow(before.doubt, input);
  const wanted = wantedNow(before, input, doubt);
  const wasHeard = before.wasHeard || input.fresh;
  if (wanted === before.showing) return { ...before, doubt, wasHeard, troubleMs: nowMs };
  const calm =
    wanted === 'gentle' ||
    wanted === 'held-steeply' ||
    wanted === 'cues-withheld' ||
    wanted === 'waiting' ||
    wanted === 'cannot-tell';
  const held =
    before.wasHeard && isTrouble(before.showing) && calm && nowMs - before.troubleMs < CALM_HOLD_MS;
  return held ? { ...before, doubt } : { showing: wanted, sinceMs: nowMs, doubt, wasHeard, troubleMs: nowMs };
}

function doubtNow(before: ShowingStep['doubt'], input: ShowingInput): ShowingStep['doubt'] {
  const { nowMs } = input;
  if (!input.fresh || !input.feedOpen) return null;
  if (input.invalid) return { sinceMs: before?.sinceMs ?? nowMs, lastMs: nowMs };
  return before && nowMs - before.lastMs < TRUST_MS ? before : null;
}

function wantedNow(before: ShowingStep, input: ShowingInput, doubt: ShowingStep['doubt']): Showing {
  if (input.isOver) return 'waiting';
  if (!input.fresh) return 'no-guidance';
  if (input.guidanceOff) return 'guidance-off';
  if (!input.feedOpen) return 'waiting';
  if (doubt) {
    // While there is doubt the last cue must not stay: it is taken away at once, and the doubt is said in words after a moment.
    const lasting = doubt.lastMs - doubt.sinceMs >= DOUBT_MS;
    if (lasting || before.showing === 'cannot-tell') return 'cannot-tell';
    return input.withheld ? 'cues-withheld' : 'gentle';
  }
  if (input.withheld) return input.cue && !mayBeWithheld(input.cue) ? input.cue : 'cues-withheld';
  return input.cue ?? (input.heldSteeply ? 'held-steeply' : 'gentle');
}
