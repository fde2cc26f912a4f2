/** What is said before a feed, and in the middle of one. */
import type { FeedSetup } from '../record/feed.ts';
import { keepForSure } from '../record/keeping.ts';
import { noteOf } from './noted.ts';
import type { Session } from './session.ts';
import { endFeed } from './session-end.ts';
import { guideAnew, holdBackNow } from './session-guide.ts';
import { handPart } from './session-keep.ts';

/** Another caregiver goes on with the open feed; she stands in the answers before the next one, too. */
export const handOver = (session: Session, caregiver: string | null, nowMs: number): void =>
  setUp(session, { ...session.setup, caregiver }, nowMs);

/**
 * New answers. What is said of bottle and milk while a feed runs is said of that feed: it stands beside it as a correction, and its cues go on by what it
 * began with. So is a baby, unless the feed has one and the nipple is out: then that feed is over, and another baby's begins with the next latch.
 * @param nowMs  wall time, for labels only
 */
export function setUp(session: Session, setup: FeedSetup, nowMs: number): void {
  const { options, keeping } = session;
  options.keeper.writeSetup(setup);
  if (isAnotherBabys(session, setup)) endFeed(session, 'page', nowMs);
  const { feed } = session;
  const said = feed ? changedIn(session.setup, setup) : {};
  session.setup = setup;
  if (feed) noteCaregiver(feed, setup.caregiver);
  if (feed && Object.keys(said).length > 0 && options.keeper.correct) {
    keepForSure(keeping, () => {
      handPart(session, feed.held);
      options.keeper.correct?.(feed.held.summary.id, { kind: 'setup', setup: said });
    });
  }
  if (feed && ('babyId' in said || 'babyName' in said || 'babyBirthDate' in said)) holdBackNow(session);
  // Ending a feed may have asked whose the next one is: it has been said.
  options.keeper.writeSetup(setup);
  guideAnew(session);
}

function isAnotherBabys({ feed, setup: before, lastTick }: Session, after: FeedSetup): boolean {
  const known = before.babyId ?? before.babyName;
  return (
    feed !== null &&
    known !== null &&
    known !== (after.babyId ?? after.babyName) &&
    !lastTick?.moment.teatInMouth
  );
}

function noteCaregiver(feed: NonNullable<Session['feed']>, caregiver: string | null): void {
  if (caregiver === (feed.caregiverNow === undefined ? feed.held.summary.setup.caregiver : feed.caregiverNow))
    return;
  feed.caregiverNow = caregiver;
  noteOf(feed, { kind: 'handed-over', atSec: feed.engine.timeline.atMicros / 1e6, caregiver });
}

function changedIn(before: FeedSetup, after: FeedSetup): Partial<FeedSetup> {
  const { caregiver: _handedOver, ...rest } = after;
  const changed = Object.entries(rest).filter(([key, value]) => before[key as keyof FeedSetup] !== value);
  return Object.fromEntries(changed) as Partial<FeedSetup>;
}
