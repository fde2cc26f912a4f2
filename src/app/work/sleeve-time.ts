import type { Recorder } from '../../feed/recording/recorder.ts';

/** Wall time at which the bytes were sent; for a feed that is taken over it is computed from the sleeve's time. */
export function labelOf({ feed }: Recorder, wallNowMs: () => number): number {
  if (!feed) return wallNowMs();
  const { held, openedSec, engine } = feed;
  const sinceSec = engine.timeline.atMicros / 1e6 - (Number.isFinite(openedSec) ? openedSec : 0);
  return held.summary.startedAtMs + sinceSec * 1000;
}
