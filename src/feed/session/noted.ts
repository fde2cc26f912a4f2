/** Events of an open feed that no sample tells. */
import { burpedByPage, turnOffCues } from '../engine.ts';
import type { FeedEvent } from '../record/feed.ts';
import type { OpenFeed } from './session.ts';

export function noteOf({ held, noted }: OpenFeed, event: FeedEvent): void {
  held.part.events.push(event);
  noted.push(event);
}

/** What was noted before the feed was taken over, at its own time again: a replay of the capture hears it there too. */
export function hearAgain(feed: OpenFeed, atSec: number): void {
  while (feed.toHear.length > 0 && feed.toHear[0]!.atSec <= atSec) {
    const event = feed.toHear.shift()!;
    if (event.kind === 'burped') burpedByPage(feed.engine);
    else if (event.kind === 'cues-off') turnOffCues(feed.engine, event.cues);
    else if (event.kind === 'cues-shown') feed.withheld = false;
    else if (event.kind === 'handed-over') feed.caregiverNow = event.caregiver;
    noteOf(feed, event);
  }
}
