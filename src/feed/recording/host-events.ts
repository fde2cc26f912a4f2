/** Events of an open feed that no sample tells: the host adds them. They are stored with the feed, since a replay needs them. */
import { burpedByPage, turnOffCues } from '../engine.ts';
import type { FeedEvent } from '../record/feed.ts';
import type { OpenFeed, Recorder } from './recorder.ts';

export function addEvent({ held, noted }: OpenFeed, event: FeedEvent): void {
  held.part.events.push(event);
  noted.push(event);
}

/** Adds an event at the sleeve's present time; without an open feed nothing happens. `guidance-paused` means that cues were turned off. */
export function addHostEvent(
  { feed }: Recorder,
  kind: 'link-lost' | 'link-back' | 'guidance-paused' | 'guidance-on' | 'cues-shown',
): void {
  if (feed) addEvent(feed, { kind, atSec: feed.engine.timeline.atMicros / 1e6 });
}

/** The caregiver asked to see the cues that a study withholds: from now on they are shown. */
export function showWithheld(recorder: Recorder): void {
  const { feed } = recorder;
  if (!feed?.withheld) return;
  feed.withheld = false;
  addHostEvent(recorder, 'cues-shown');
}

/** "Burped" was touched on the page; the burp rule starts counting anew. */
export function addBurpByPage({ feed }: Recorder): void {
  if (feed) addEvent(feed, { kind: 'burped', atSec: burpedByPage(feed.engine) });
}

/**
 * For a feed that was taken over from another process: applies the events that were added there, each at its own time, as a replay of the capture
 * does. @param atSec  the sleeve's time in the feed, seconds
 */
export function repeatHostEvents(feed: OpenFeed, atSec: number): void {
  while (feed.toRepeat.length > 0 && feed.toRepeat[0]!.atSec <= atSec) {
    const event = feed.toRepeat.shift()!;
    if (event.kind === 'burped') burpedByPage(feed.engine);
    else if (event.kind === 'cues-off') turnOffCues(feed.engine, event.cues);
    else if (event.kind === 'cues-shown') feed.withheld = false;
    else if (event.kind === 'handed-over') feed.caregiverNow = event.caregiver;
    addEvent(feed, event);
  }
}
