/**
 * What a caregiver is being shown, as data. A process that takes over an open feed continues to show it, without sounding or counting the cue again.
 * Times are the sleeve's own in the feed, seconds, so that no clocks of two computers are compared. Pure.
 */
import type { ShownCue } from '../../pacing/cues/cue.ts';
import type { Output } from '../record/feed.ts';
import type { Recorder } from '../recording/recorder.ts';
import { hearSample } from './hearing.ts';
import type { LiveState } from './live-state.ts';
import type { Showing } from './live-view.ts';

export interface ShownSnapshot {
  showing: Showing;
  sinceSec: number;
  cue: { shown: ShownCue; shownSinceSec: number; sinceSec: number; by: readonly Output[] } | null;
  /** When the buzzer last sounded; null: not in this feed. */
  soundedSec: number | null;
  owed: boolean;
  muted: boolean;
  dimmed: boolean;
  guidanceOffSec: number | null;
}

const feedSec = ({ feed }: Recorder): number => (feed ? feed.engine.timeline.atMicros / 1e6 : 0);

export function shownSnapshot(state: LiveState, nowMs: number): ShownSnapshot {
  const atSec = feedSec(state.recorder);
  const secOf = (ms: number): number => atSec - (nowMs - ms) / 1000;
  const { show, sounding, telling, muted, dimmed, guidanceOffAtMs } = state;
  const { cue } = telling;
  return {
    showing: show.showing,
    sinceSec: secOf(show.sinceMs),
    cue: cue && { shown: cue.shown, shownSinceSec: secOf(cue.sinceMs), sinceSec: cue.sinceSec, by: cue.by },
    soundedSec: Number.isFinite(sounding.lastMs) ? secOf(sounding.lastMs) : null,
    owed: sounding.owed,
    muted,
    dimmed,
    guidanceOffSec: guidanceOffAtMs === null ? null : secOf(guidanceOffAtMs),
  };
}

/** `state` is changed in place; its recorder is one that was taken over. */
export function goOnShowing(state: LiveState, shown: ShownSnapshot, nowMs: number): void {
  const { recorder } = state;
  const atSec = feedSec(recorder);
  const msOf = (sec: number): number => nowMs - (atSec - sec) * 1000;
  const { showing, sinceSec, cue, soundedSec, owed, guidanceOffSec } = shown;
  state.show = { showing, sinceMs: msOf(sinceSec), doubt: null, troubleMs: nowMs, wasHeard: true };
  state.telling = {
    cue: cue && {
      shown: cue.shown,
      sinceMs: msOf(cue.shownSinceSec),
      sinceSec: cue.sinceSec,
      by: cue.by,
    },
    told: [],
  };
  state.sounding = {
    lastMs: soundedSec === null ? Number.NEGATIVE_INFINITY : msOf(soundedSec),
    owed,
    notes: null,
  };
  // Its link is open: the last bytes came just now. Otherwise what is shown would end here, and be counted again.
  state.hearing = hearSample(state.hearing);
  state.muted = shown.muted;
  state.dimmed = shown.dimmed;
  state.guidanceOffAtMs = guidanceOffSec === null ? null : msOf(guidanceOffSec);
  if (!recorder.feed) return;
  state.teatAtMs = msOf(recorder.feed.lastTeatSec);
  state.openedAtMs = msOf(recorder.feed.openedSec);
  state.keptAtSec = atSec;
}
