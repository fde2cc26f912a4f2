/** What the live feed does by the time: keeping what has come, and labels. Times are those of the host's scheduler, ms, unless said otherwise. */
import { keepPart } from '../recording/keep-part.ts';
import type { LiveState } from './live-state.ts';

/** A cut costs no more than this. */
const KEEP_EVERY_MS = 1000;
/** At speed a second of the sleeve's passes faster; the disk is asked no oftener than this. */
const KEEP_AT_MOST_EVERY_MS = 100;

/**
 * By the host's time and by the sleeve's: bytes that waited for a busy host are more than a second of a feed.
 * @returns whether it was due
 */
export function keepWhenDue(state: LiveState, nowMs: number, everyMs = KEEP_EVERY_MS): boolean {
  const { recorder } = state;
  const atSec = recorder.feed ? recorder.feed.engine.timeline.atMicros / 1e6 : 0;
  const sinceMs = nowMs - state.keptAtMs;
  const isAsMuchOfSleeve = (atSec - state.keptAtSec) * 1000 >= everyMs && sinceMs >= KEEP_AT_MOST_EVERY_MS;
  if (sinceMs < everyMs && !isAsMuchOfSleeve) return false;
  state.keptAtMs = nowMs;
  state.keptAtSec = atSec;
  keepPart(recorder);
  return true;
}

/**
 * What a clock on the wall shows, for labels. While a feed is open it goes on from the feed's start by time that really passed, so that a
 * clock that is set meanwhile moves no end before its start.
 */
export function labelMs(state: LiveState, { wallNowMs }: { wallNowMs: () => number }, nowMs: number): number {
  const { feed } = state.recorder;
  return feed ? feed.held.summary.startedAtMs + (nowMs - state.openedAtMs) : wallNowMs();
}
