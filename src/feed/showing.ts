/** What to show now, so that it does not flicker. Pure: state and input in, state and one answer out. */
import type { CueKind } from '../pacing/cue.ts';
import type { QualityReason } from '../sensing/moment.ts';
import type { Showing } from './live-view.ts';

export interface ShowingInput {
  /** Time of the host's scheduler, ms; only differences count. */
  nowMs: number;
  fresh: boolean;
  feedOpen: boolean;
  guidancePaused: boolean;
  cue: CueKind | null;
  reason: QualityReason | null;
  invalid: boolean;
}

export interface ShowingState {
  showing: Showing;
  sinceMs: number;
}

/** "Can't tell" and "no guidance" stay at least this long before all is well again; a cue may end them at once. */
export const CALM_HOLD_MS = 5000;
/** An estimate may fail for this long before it is said: a knock is over in less. */
const DOUBT_MS = 700;

export interface ShowingStep extends ShowingState {
  doubtSinceMs: number | null;
}

export const SHOWING_START: ShowingStep = { showing: 'waiting', sinceMs: 0, doubtSinceMs: null };

export function stepShowing(before: ShowingStep, input: ShowingInput): ShowingStep {
  const doubt = input.fresh && input.feedOpen && input.invalid;
  const doubtSinceMs = doubt ? (before.doubtSinceMs ?? input.nowMs) : null;
  const wanted = wantedNow(before, input, doubtSinceMs);
  if (wanted === before.showing) return { ...before, doubtSinceMs };
  const held = before.showing === 'cannot-tell' || before.showing === 'no-guidance';
  const calm = wanted === 'gentle' || wanted === 'waiting' || wanted === 'cannot-tell';
  if (held && calm && input.nowMs - before.sinceMs < CALM_HOLD_MS) return { ...before, doubtSinceMs };
  return { showing: wanted, sinceMs: input.nowMs, doubtSinceMs };
}

function wantedNow(before: ShowingStep, input: ShowingInput, doubtSinceMs: number | null): Showing {
  if (!input.fresh) return 'no-guidance';
  if (input.guidancePaused) return 'guidance-off';
  if (!input.feedOpen) return 'waiting';
  if (doubtSinceMs !== null) {
    // Never the last good advice while there is doubt: at once calm, after a moment in words.
    if (input.nowMs - doubtSinceMs >= DOUBT_MS || before.showing === 'cannot-tell') return 'cannot-tell';
    return 'gentle';
  }
  return input.cue ?? 'gentle';
}
