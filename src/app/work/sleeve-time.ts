import type { Session } from '../../feed/session/session.ts';

/** What a clock showed when the sleeve sent what is taken now: a feed that is taken over goes on by the sleeve's time. */
export function labelOf({ feed }: Session, wallNowMs: () => number): number {
  if (!feed) return wallNowMs();
  const { held, openedSec, engine } = feed;
  const sinceSec = engine.timeline.atMicros / 1e6 - (Number.isFinite(openedSec) ? openedSec : 0);
  return held.summary.startedAtMs + sinceSec * 1000;
}
