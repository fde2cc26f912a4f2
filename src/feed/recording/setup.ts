/** Takes the answers given before a feed, and those given during one. */
import type { FeedSetup } from '../record/feed.ts';
import { writeOrQueue } from '../record/pending-writes.ts';
import { endFeed } from './ending.ts';
import { addEvent } from './host-events.ts';
import { writePart } from './keep-part.ts';
import { guideAnew, holdBackNow } from './next-feed.ts';
import type { Recorder } from './recorder.ts';

/** Another caregiver continues the open feed; the next feed's answers name her too. */
export const handOver = (recorder: Recorder, caregiver: string | null, nowMs: number): void =>
  setUp(recorder, { ...recorder.setup, caregiver }, nowMs);

/**
 * New answers. Answers about bottle and milk given during a feed become a correction of that feed; its cues go on as they began. The same holds for
 * the baby, unless the feed has one already and the nipple is out: then that feed ends, and a feed of the other baby begins with the next latch.
 * @param nowMs  wall time, for labels only
 */
export function setUp(recorder: Recorder, setup: FeedSetup, nowMs: number): void {
  const { options, pending } = recorder;
  options.storage.writeSetup(setup);
  if (isAnotherBabys(recorder, setup)) endFeed(recorder, 'page', nowMs);
  const { feed } = recorder;
  const said = feed ? changedIn(recorder.setup, setup) : {};
  recorder.setup = setup;
  if (feed) addHandedOver(feed, setup.caregiver);
  if (feed && Object.keys(said).length > 0 && options.storage.correct) {
    writeOrQueue(pending, () => {
      writePart(recorder, feed.held);
      options.storage.correct?.(feed.held.summary.id, { kind: 'setup', setup: said });
    });
  }
  if (feed && ('babyId' in said || 'babyName' in said || 'babyBirthDate' in said)) holdBackNow(recorder);
  // Ending the feed may have cleared the baby in the stored answers; the new answers hold.
  options.storage.writeSetup(setup);
  guideAnew(recorder);
}

function isAnotherBabys({ feed, setup: before, lastTick }: Recorder, after: FeedSetup): boolean {
  const known = before.babyId ?? before.babyName;
  return (
    feed !== null &&
    known !== null &&
    known !== (after.babyId ?? after.babyName) &&
    !lastTick?.moment.teatInMouth
  );
}

function addHandedOver(feed: NonNullable<Recorder['feed']>, caregiver: string | null): void {
  if (caregiver === (feed.caregiverNow === undefined ? feed.held.summary.setup.caregiver : feed.caregiverNow))
    return;
  feed.caregiverNow = caregiver;
  addEvent(feed, { kind: 'handed-over', atSec: feed.engine.timeline.atMicros / 1e6, caregiver });
}

function changedIn(before: FeedSetup, after: FeedSetup): Partial<FeedSetup> {
  const { caregiver: _handedOver, ...rest } = after;
  const changed = Object.entries(rest).filter(([key, value]) => before[key as keyof FeedSetup] !== value);
  return Object.fromEntries(changed) as Partial<FeedSetup>;
}
