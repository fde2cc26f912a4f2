/** A baby as kept, and what a feed of it runs with. Types only; src/store keeps them, guided.ts makes the one of the other. */
import type { Switch } from '../../pacing/cues/cues.ts';
import type { Guidance } from '../../pacing/guidance.ts';
import type { PaceProfile } from '../../pacing/profile/profile.ts';
import type { Strictness } from '../../pacing/profile/scaled-profile.ts';
import type { WeighedFeed } from '../../pacing/profile/weighed-feeds.ts';
import type { ClinicianPlan, ScreeningId } from '../../pacing/screening.ts';
import type { FeedSetup } from './feed.ts';

/** What the family chooses of the guidance; all else comes from the answers and from past feeds. */
export type FamilyChoices = Pick<Guidance, 'burp' | Switch>;

/** What is entered of a baby. Null: not said. */
export interface BabyEntry {
  name: string;
  /** ISO date, YYYY-MM-DD. */
  birthDate: string | null;
  /** Every question is answered before a baby is kept. */
  answers: Record<ScreeningId, boolean>;
  plan: ClinicianPlan | null;
  choices: FamilyChoices;
  pace: Strictness;
  /** Null: learned from past feeds. */
  usualFeedMl: number | null;
  /** False: the breast is not mentioned to this family. */
  breastfed: boolean;
  /** Her own baby's whole time at the breast, and sides offered in one feed. */
  breast: { minutes: number; sides: 1 | 2 } | null;
  /** Feeds at the breast with the baby weighed before and after; absent: none. */
  weighed?: WeighedFeed[] | undefined;
}

export interface Baby extends BabyEntry {
  id: string;
  /** Milliseconds since 1970 UTC, as all instants here. */
  createdAtMs: number;
  /** When the screening was last answered: an answer that rests on age may pass. */
  answeredAtMs: number;
  /** Feeds before it no longer make the sleeve quieter: somebody took that back. Null: all count. */
  quietSinceMs: number | null;
}

/** What of an earlier feed of a baby counts for the next one. */
export interface PastFeed {
  atMs: number;
  intakeMl: number;
  durationSec: number;
  caregiver: string | null;
  /** The nipple that it was given with; absent: not known. */
  teat?: Pick<FeedSetup, 'teatName' | 'teatFlow'>;
  /** It came under this baby only afterwards: few cues were given then, whatever the feed was like. */
  isUnguided?: boolean;
  /** All cues that fired, by kind. */
  cueCounts: Readonly<Record<string, number>>;
}

/** What a feed ran with: kept with the feed, so that it can be replayed as it ran. */
export interface RanWith {
  profile: PaceProfile;
  guidance: Guidance;
}
