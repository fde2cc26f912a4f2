/** Types of a feed, as stored and as shown. */
import type { CueKind, KeptCue, ShownCue } from '../../pacing/cues/cue.ts';
import type { RefinedFeed, SensingEvent } from '../../sensing/moment.ts';
import type { RanWith } from './baby.ts';
import type { Corrected, Correction } from './written-by-hand.ts';

export type MilkKind = 'expressed' | 'formula' | 'mixed';
/** What the nipple's package says; it does not tell how fast the milk runs. */
export type TeatFlow = 'slow' | 'medium' | 'fast';

/** The answers before a feed; every field may be skipped (null), and the last answers are the default of the next feed. */
export interface FeedSetup {
  /** Id of the baby's record (baby.ts); null or absent: none chosen, or a feed from before babies had records. */
  babyId?: string | null;
  babyName: string | null;
  /** ISO date, YYYY-MM-DD. */
  babyBirthDate: string | null;
  bottleName: string | null;
  /** The nipple, in the family's own words. */
  teatName?: string | null;
  teatFlow?: TeatFlow | null;
  milkKind: MilkKind | null;
  portionMl: number | null;
  /** The caregiver's name, as typed. */
  caregiver: string | null;
  /** The study that this feed is a session of, and the participant's code; null or absent: none. */
  study?: string | null;
  participant?: string | null;
}

/** One stored row of the live estimate, twice a second or slightly more often. */
export interface FeedRow {
  atSec: number;
  milkMl: number | null;
  flowMlPerMin: number | null;
  intakeMl: number;
  teatInMouth: boolean;
  tiltDeg: number;
}

export type FeedEndReason = 'button' | 'page' | 'teat-away' | 'link-ended';
export type FeedState = 'open' | 'ended' | 'discarded';

/** An event in a feed: teat in, teat out, spill, refill, a lost link, a guidance pause. */
export type FeedEvent =
  | SensingEvent
  | { kind: 'link-lost' | 'link-back' | 'guidance-paused' | 'guidance-on'; atSec: number }
  /** "Burped" on the page. No sample shows it, and the burp rule depends on it. */
  | { kind: 'burped'; atSec: number }
  /** Cues that were turned off during the feed, since this baby must not have them. */
  | { kind: 'cues-off'; atSec: number; cues: CueKind[] }
  /** In a study feed: cues about pacing are recorded but not shown, until a caregiver asks to see them. */
  | { kind: 'cues-withheld' | 'cues-shown'; atSec: number }
  /** Another caregiver continues; the first one is in the setup. */
  | { kind: 'handed-over'; atSec: number; caregiver: string | null };

/** The output that showed a cue. `page`: at least one page was open. */
export type Output = 'page' | 'light' | 'sound';

/** One output that showed a cue: when the cue began to be shown, and when this output began to show it, seconds since sample zero. */
export interface ToldCue {
  sinceSec: number;
  atSec: number;
  shown: ShownCue;
  output: Output;
}

/** A feed as listed. Wall times are milliseconds since 1970 UTC of the host; they are labels and are not used to measure. */
export interface FeedSummary {
  id: string;
  startedAtMs: number;
  /** Wall time at which sample time 0 of the capture fell. */
  sampleZeroAtMs: number;
  endedAtMs: number | null;
  state: FeedState;
  endReason: FeedEndReason | null;
  /** True when a simulated sleeve made it; such feeds are never mixed with real ones. */
  simulated: boolean;
  sleeveId: string;
  setup: FeedSetup;
  /** Profile and guidance that the feed ran with; absent: the shipped profile alone. */
  ran?: RanWith;
  /** Totals: from the refined pass once the feed has ended, live before. */
  intakeMl: number;
  spiltMl: number;
  addedMl: number;
  /** From the first latch to the last moment with the teat in the mouth, seconds. */
  durationSec: number;
  /** Name of the capture file inside the data folder, and of the calibration used. */
  captureFile: string | null;
}

/** A whole stored feed. `refined` is null until the feed has ended and was refined. */
export interface KeptFeed extends FeedSummary {
  calibration: unknown;
  /** The version of Ebbline that recorded it; absent in old feeds. */
  softwareVersion?: string;
  rows: FeedRow[];
  /** Cues that the rules raised, shown or not. */
  cues: KeptCue[];
  /** Which cues were shown and how; absent in feeds from before that was recorded. */
  told?: ToldCue[];
  events: FeedEvent[];
  refined: RefinedFeed | null;
  /** Corrections made afterwards, oldest first, and the values that result; absent: none. */
  corrections?: Correction[];
  corrected?: Corrected;
}
