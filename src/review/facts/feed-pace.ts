/** The pace that a feed ran with, for graph, texts and tables: its own if stored, else the shipped one. Pure. */
import type { KeptFeed } from '../../feed/record/feed.ts';
import { completedProfile, type PaceParams, paceParams } from '../../pacing/profile/profile.ts';
import { SHIPPED_PROFILE } from '../../pacing/profile/shipped-profile.ts';

/** A straight course: `startMl` at the first latch, then `mlPerMin`. */
export interface Course {
  startMl: number;
  mlPerMin: number;
}

export interface FeedPace {
  /** Lines above which "too fast" comes, from the first latch on: of the lasting bucket and of the pouring bucket. */
  lines: readonly [lasting: Course, pouring: Course];
  /** False if "Lower your hand" was off in the feed, from the start or later. */
  isCued: boolean;
  /** Where its figures come from. */
  origin: 'shipped' | 'scaled' | 'clinician';
  /** What counts as a burp taken. */
  burp: PaceParams['burp'];
}

export function paceOfFeed({ ran, events }: Pick<KeptFeed, 'ran' | 'events'>): FeedPace {
  const profile = ran ? completedProfile(ran.profile) : SHIPPED_PROFILE;
  const { buckets, burp } = paceParams(profile);
  const isOff =
    ran?.guidance.cuesOff?.includes('tilt-down') ||
    events.some((event) => event.kind === 'cues-off' && event.cues.includes('tilt-down'));
  return {
    lines: [courseOf(buckets.lasting), courseOf(buckets.pouring)],
    isCued: !isOff,
    origin: profile.name === 'scaled' || profile.name === 'clinician' ? profile.name : 'shipped',
    burp,
  };
}

const courseOf = ({ depthMl, rateMlPerMin }: PaceParams['buckets']['lasting']): Course => ({
  startMl: depthMl,
  mlPerMin: rateMlPerMin,
});
