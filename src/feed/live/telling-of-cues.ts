/** Which output (page, light, sound) showed a cue to a caregiver, and when. Pure: state and input in, state and new entries out. */
import { cueOf, type ShownCue } from '../../pacing/cues/shown-cues.ts';
import type { Output, ToldCue } from '../record/feed.ts';
import type { Showing } from './live-view.ts';

export interface TellingInput {
  /** Time of the host's scheduler, ms; only differences count. */
  nowMs: number;
  /** Device time since sample zero, seconds. */
  atSec: number;
  showing: Showing;
  /** Whether a page is open that shows it. */
  isPageOpen: boolean;
  /** True in the step in which the buzzer sounded. */
  sounded: boolean;
}

export interface TellingStep {
  cue: { shown: ShownCue; sinceMs: number; sinceSec: number; by: readonly Output[] } | null;
  /** New entries of this step. */
  told: ToldCue[];
}

/** A cue that is gone within this time counts as not shown by light or page, since nobody looks so fast. Own choice, no source. */
export const SEEN_AFTER_MS = 1000;

export const TELLING_START: TellingStep = { cue: null, told: [] };

export function stepTelling(before: TellingStep, input: TellingInput): TellingStep {
  const { nowMs, atSec, showing, isPageOpen, sounded } = input;
  const record = cueOf(showing);
  if (!record) return before.cue ? TELLING_START : before;
  const shown = showing as ShownCue;
  const isNew = before.cue?.shown !== shown;
  const cue =
    isNew || !before.cue ? { shown, sinceMs: nowMs, sinceSec: atSec, by: [] as Output[] } : before.cue;
  const isSeen = nowMs - cue.sinceMs >= SEEN_AFTER_MS;
  const outputs: [Output, boolean][] = [
    ['page', isSeen && isPageOpen],
    ['light', isSeen && record.light !== 'gentle'],
    ['sound', sounded],
  ];
  const added = outputs.flatMap(([output, isTold]) => (isTold && !cue.by.includes(output) ? [output] : []));
  if (added.length === 0) return isNew || before.told.length > 0 ? { cue, told: [] } : before;
  const { sinceSec } = cue;
  // Page and light began with the cue, unless a page was opened later.
  const isLater = nowMs - cue.sinceMs >= 2 * SEEN_AFTER_MS;
  const since = (output: Output): number => (output === 'sound' || isLater ? atSec : sinceSec);
  return {
    cue: { ...cue, by: [...cue.by, ...added] },
    told: added.map((output) => ({ sinceSec, atSec: since(output), shown, output })),
  };
}
