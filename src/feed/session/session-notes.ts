/** What is noted of an open feed that no sample tells. */
import { burpedByPage } from '../engine.ts';
import { noteOf } from './noted.ts';
import type { Session } from './session.ts';

/** Something about the feed that no sample tells: the link, cues turned off (`guidance-paused`, as it has always been kept). */
export function noteEvent(
  session: Session,
  kind: 'link-lost' | 'link-back' | 'guidance-paused' | 'guidance-on' | 'cues-shown',
): void {
  const { feed } = session;
  if (feed) noteOf(feed, { kind, atSec: feed.engine.timeline.atMicros / 1e6 });
}

/** Whoever holds the bottle wants to see the cues of a study feed: from now on they are shown. */
export function showWithheld(session: Session): void {
  const { feed } = session;
  if (!feed?.withheld) return;
  feed.withheld = false;
  noteEvent(session, 'cues-shown');
}

/** "Burped", said on the page: kept, since what follows rests on it. */
export function noteBurpedByPage({ feed }: Session): void {
  if (feed) noteOf(feed, { kind: 'burped', atSec: burpedByPage(feed.engine) });
}
