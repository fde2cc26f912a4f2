/** What is sent to the caregiver's page and to the light. Types only. */
import type { ShownCue } from '../../pacing/cues/cue.ts';
import type { Reason } from '../../pacing/cues/reason.ts';
import type { CalibrationDoubt } from '../../pacing/cues/words-calibration.ts';
import type { QualityReason, SensorFault } from '../../sensing/moment.ts';
import type { FeedSetup } from '../record/feed.ts';

/**
 * The one thing to show now. A cue; `gentle` (no cue now); `held-steeply` (no cue, but the bottle is steep); `cannot-tell` (the estimate may not be used, `because` says why);
 * `no-guidance` (no samples: the link is away or stale); `guidance-off` (turned off by the caregiver);
 * `cues-withheld` (a study feed: cues are recorded, not shown); `waiting` (no feed yet).
 */
export type Showing =
  | ShownCue
  | 'gentle'
  | 'held-steeply'
  | 'cannot-tell'
  | 'no-guidance'
  | 'guidance-off'
  | 'cues-withheld'
  | 'waiting';

/** Why there is no guidance: the connection is lost and is being retried; the recording has ended; the connection is open but no samples come. */
export type LinkCause = 'lost' | 'ended' | 'silent' | 'sleeve-nameless' | 'other-sleeve' | 'too-busy';

/**
 * One line about this baby or this sleeve, shown beside `showing`; the page has the words.
 * `battery-soon`: its battery ends in half an hour; `battery-low`: in some minutes.
 * `cues-off`, `not-screened`, `with-plan`: result of the screening. `cues-next-feed`: all cues are allowed now, but this feed began without them.
 * `screen-again`: an answer rested on an age that has passed. `quieter`, `quietest`: past
 * feeds needed few cues. `whose-feed`: more than one baby is known, and none was chosen since the last feed. `own-feed-faster`: her own feed is
 * faster than the profile can follow, so some cues will come. `check-sleeve`: a sensor of the sleeve disagrees with the others or is silent, and the feed goes on without it.
 * `nipple-runs-by-itself`: by its measurement the nipple gives more milk without a suck than the pace allows.
 * `paces-alone`: a study found that this caregiver paces without cues.
 * `nipple-pours`, `slow-nipple-pours`: milk ran too fast in most of the last feeds with this nipple, which is not or is called a slow one.
 */
export type NoticeKind =
  | 'battery-low'
  | 'battery-soon'
  | 'whose-feed'
  | 'cues-off'
  | 'not-screened'
  | 'cues-next-feed'
  | 'with-plan'
  | 'screen-again'
  | 'quieter'
  | 'quietest'
  | 'own-feed-faster'
  | 'check-sleeve'
  | 'nipple-pours'
  | 'slow-nipple-pours'
  | 'paces-alone'
  | 'nipple-runs-by-itself';

/** One complete view of the live feed; each replaces the one before. It has no amount left and no fraction of the portion. */
export interface LiveView {
  showing: Showing;
  /** The reason: for a cue its rule and numbers; for `cannot-tell` and `no-guidance` a plain English line with what is wrong and what to do. */
  because: Reason | string | null;
  /** With `no-guidance`: the same as `because`, as a code to translate. */
  cause?: LinkCause | null;
  feedId: string | null;
  feedState: 'none' | 'open' | 'ended' | 'discarded';
  /** Device time since the first latch, seconds; null before a feed. */
  feedElapsedSec: number | null;
  teatInMouth: boolean;
  /** How far ahead of a gentle pace, 0 (not at all) to 1 (at the mark where a cue comes); null when unknown. */
  aheadOfPace: number | null;
  muted: boolean;
  dimmed: boolean;
  guidanceOff: boolean;
  simulated: boolean;
  /** True in a practice run with a doll and water. */
  practice?: boolean;
  /** True where no sleeve is attached: the page only shows stored feeds. */
  noSleeve?: true;
  /** Charge of the sleeve's battery, %, rounded for display; null or absent: not known. */
  batteryPercent?: number | null;
  linkLabel: string;
  qualityReason: QualityReason | null;
  /** Trouble that does not stop the feed, in one plain sentence with its remedy (disk full); null when there is none. */
  notice: string | null;
  /** Codes of the errors in `notice`, and `raw-lost`. Absent: as `notice` is null. */
  noticeCodes?: readonly string[];
  /** Ended feeds that are only in the program's memory so far. Absent: none. */
  unkept?: readonly string[];
  /** Result of the last calibration check with the sleeve at rest; during a feed only where the figures must not be trusted. */
  calibration?: CalibrationDoubt | null;
  /** Most important first; absent or empty: none. */
  notices?: readonly NoticeKind[];
  /** With `check-sleeve`: what is wrong with the sleeve in this feed, in order of detection; absent or empty: a load cell is silent. */
  sensorFaults?: readonly SensorFault[];
  /** The caregiver who took over during the feed. */
  caregiverNow?: string | null;
  setup: FeedSetup;
  /** For the builder's or researcher's view only, never on the caregiver's page. */
  numbers: {
    milkMl: number | null;
    flowMlPerMin: number | null;
    intakeMl: number | null;
    tiltDeg: number | null;
    accepted: number;
    rejected: number;
    missing: number;
  };
}

/** What a person may do from the page (some of it by the sleeve's button too). */
export type LiveCommand =
  | { kind: 'mute'; on: boolean }
  | { kind: 'dim'; on: boolean }
  | { kind: 'guidance-off'; on: boolean }
  /** In a study feed: the cues that the study withholds are shown from now on. */
  | { kind: 'show-cues' }
  | { kind: 'burped' }
  | { kind: 'hand-over'; caregiver: string | null }
  /** The sleeve that this page belongs to blinks in its own pattern for some seconds. */
  | { kind: 'which-sleeve' }
  | { kind: 'end-feed' }
  | { kind: 'discard-feed' }
  | { kind: 'setup'; setup: FeedSetup };
