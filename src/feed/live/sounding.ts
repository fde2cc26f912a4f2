/** When the buzzer sounds. Pure: state and input in, state and notes to play out. */
import { type Notes, notesFor, SOUND_GAP_SEC } from './light-language.ts';
import type { Showing } from './live-view.ts';

export interface SoundingInput {
  /** Time of the host's scheduler, ms; only differences count. */
  nowMs: number;
  showing: Showing;
  /** True in the step in which `showing` began. */
  began: boolean;
  muted: boolean;
}

export interface SoundingStep {
  /** When the buzzer last sounded. */
  lastMs: number;
  /** A cue that began too soon after another sound: it sounds once the gap is over, if it is still shown. */
  owed: boolean;
  notes: Notes | null;
}

export const SOUNDING_START: SoundingStep = { lastMs: Number.NEGATIVE_INFINITY, owed: false, notes: null };

/** A cue sounds once, when it begins; two sounds are never closer than `SOUND_GAP_SEC`. */
export function stepSounding(before: SoundingStep, input: SoundingInput): SoundingStep {
  const due = !input.muted && (input.began || before.owed) ? notesFor(input.showing) : null;
  if (due === null) return { lastMs: before.lastMs, owed: false, notes: null };
  if (input.nowMs - before.lastMs < SOUND_GAP_SEC * 1000) {
    return { lastMs: before.lastMs, owed: true, notes: null };
  }
  return { lastMs: input.nowMs, owed: false, notes: due };
}
