/** Timed duties of the live feed: storing what has come, and time labels. Times are those of the host's scheduler, ms, unless said otherwise. */
import { keepPart } from '../recording/keep-part.ts';
import type { LiveState } from './live-state.ts';

/** A power cut loses at most this much. */
const KEEP_EVERY_MS = 1000;
/** In a simulation faster than real time a second of the sleeve's passes sooner; the disk is written no more often than this. */
const KEEP_AT_MOST_EVERY_MS = 100;

/**
 * Due by the host's time or by the sleeve's: bytes that waited for a busy host may hold more than a second of the feed.
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
 * Wall time for labels. While a feed is open it is the feed's start plus the time elapsed since, so that setting the host's clock
 * cannot put an end before its start.
 */
export function labelMs(state: LiveState, { wallNowMs }: { wallNowMs: () => number }, nowMs: number): number {
  const { feed } = state.recorder;
  return feed ? feed.held.summary.startedAtMs + (nowMs - state.openedAtMs) : wallNowMs();
}
