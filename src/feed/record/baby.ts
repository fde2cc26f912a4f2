/** A baby's record, and the settings that a feed of it runs with. Types only; src/store stores them, guided.ts computes the settings. */
import type { Switch } from '../../pacing/cues/cues.ts';
import type { Guidance } from '../../pacing/guidance.ts';
import type { PaceProfile } from '../../pacing/profile/profile.ts';
import type { Strictness } from '../../pacing/profile/scaled-profile.ts';
import type { WeighedFeed } from '../../pacing/profile/weighed-feeds.ts';
import type { ClinicianPlan, ScreeningId } from '../../pacing/screening.ts';
import type { EarlierSucks } from '../../sensing/index.ts';
import type { FeedSetup } from './feed.ts';

/** The part of the guidance that the family chooses; the rest follows from the answers and from past feeds. */
export type FamilyChoices = Pick<Guidance, 'burp' | Switch>;

/** What is entered about a baby. Null: not given. */
export interface BabyEntry {
  name: string;
  /** ISO date, YYYY-MM-DD. */
  birthDate: string | null;
  /** A baby is stored only when every question is answered. */
  answers: Record<ScreeningId, boolean>;
  plan: ClinicianPlan | null;
  choices: FamilyChoices;
  pace: Strictness;
  /** Null: learned from past feeds. */
  usualFeedMl: number | null;
  /** False: texts for this family do not mention the breast. */
  breastfed: boolean;
  /** The baby's usual whole time at the breast, minutes, and sides offered in one feed. */
  breast: { minutes: number; sides: 1 | 2 } | null;
  /** Feeds at the breast with the baby weighed before and after; absent: none. */
  weighed?: WeighedFeed[] | undefined;
}

export interface Baby extends BabyEntry {
  id: string;
  /** Milliseconds since 1970 UTC, as all instants here. */
  createdAtMs: number;
  /** When the screening was last answered; an answer may depend on an age that passes. */
  answeredAtMs: number;
  /** Feeds before it are not counted for making the sleeve quieter, since somebody reset that. Null: all count. */
  quietSinceMs: number | null;
}

/** The part of an earlier feed that is used for the next one. */
export interface PastFeed {
  atMs: number;
  intakeMl: number;
  durationSec: number;
  caregiver: string | null;
  /** The nipple that it was given with; absent: not known. */
  teat?: Pick<FeedSetup, 'teatName' | 'teatFlow'>;
  /** It was assigned to this baby only afterwards, so it ran with few cues whatever the feed was like. */
  isUnguided?: boolean;
  /** All cues that fired, by kind. */
  cueCounts: Readonly<Record<string, number>>;
}

/** The settings a feed ran with; stored with the feed, so that it can be replayed. */
export interface RanWith {
  profile: PaceProfile;
  guidance: Guidance;
  /** What a suck gave in earlier feeds, from which the estimate started; absent: it started from what is usual. */
  earlierSucks?: EarlierSucks;
}
