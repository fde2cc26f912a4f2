/** What a feed is, as kept and as shown. Types only. */
import type { CueKind, KeptCue, ShownCue } from '../../pacing/cues/cue.ts';
import type { RefinedFeed, SensingEvent } from '../../sensing/moment.ts';
import type { RanWith } from './baby.ts';
import type { Corrected, Correction } from './written-by-hand.ts';

export type MilkKind = 'expressed' | 'formula' | 'mixed';
/** What the nipple's pack says; it does not tell how fast it runs. */
export type TeatFlow = 'slow' | 'medium' | 'fast';

/** What is asked before a feed; every field may be skipped (null) and the last values are kept. */
export interface FeedSetup {
  /** The baby as kept (baby.ts); null or absent: none chosen, or a feed from before babies were kept. */
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
  /** Who feeds, as she writes it herself. */
  caregiver: string | null;
  /** The study that this feed is a session of, and the participant's code; null or absent: none. */
  study?: string | null;
  participant?: string | null;
}

/** One kept row of the live estimate, twice a second or a little oftener. */
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

/** Something in a feed that is neither a number nor a cue: teat in, teat out, spill, refill, a lost link, a guidance pause. */
export type FeedEvent =
  | SensingEvent
  | { kind: 'link-lost' | 'link-back' | 'guidance-paused' | 'guidance-on'; atSec: number }
  /** "Burped", said on the page: no sample tells it, and what follows rests on it. */
  | { kind: 'burped'; atSec: number }
  /** Said within the feed: this baby is not to have these. */
  | { kind: 'cues-off'; atSec: number; cues: CueKind[] }
  /** A study feed: cues about the practice of pacing are decided and kept, not shown; until somebody wants to see them. */
  | { kind: 'cues-withheld' | 'cues-shown'; atSec: number }
  /** Another caregiver goes on; the first one stands in the setup. */
  | { kind: 'handed-over'; atSec: number; caregiver: string | null };

/** By what a caregiver was told of a cue. `page`: at least one page was open. */
export type Output = 'page' | 'light' | 'sound';

/** One output that told of a cue: when the cue began to be shown, and when this output told of it, seconds since sample zero. */
export interface ToldCue {
  sinceSec: number;
  atSec: number;
  shown: ShownCue;
  output: Output;
}

/** A feed as listed. Wall times are milliseconds since 1970 UTC of the host; they label, they measure nothing. */
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
  /** Profile and guidance that its cues came by; absent: the shipped profile alone. */
  ran?: RanWith;
  /** Totals as known: refined once the feed has ended, live before. */
  intakeMl: number;
  spiltMl: number;
  addedMl: number;
  /** From the first latch to the last moment with the teat in the mouth, seconds. */
  durationSec: number;
  /** Name of the capture file inside the data folder, and of the calibration used. */
  captureFile: string | null;
}

/** A whole kept feed. `refined` is null until the feed has ended and was refined. */
export interface KeptFeed extends FeedSummary {
  calibration: unknown;
  /** The version of Ebbline that recorded it; absent where nobody wrote it down. */
  softwareVersion?: string;
  rows: FeedRow[];
  /** What the rules found, shown or not. */
  cues: KeptCue[];
  /** What a caregiver was told of it; absent in feeds from before it was written down. */
  told?: ToldCue[];
  events: FeedEvent[];
  refined: RefinedFeed | null;
  /** What was put beside it, oldest first, and what that comes to; absent where nothing was. */
  corrections?: Correction[];
  corrected?: Corrected;
}
