/** What the caregiver's page and the light are told. Types only. */
import type { ShownCue } from '../../pacing/cues/cue.ts';
import type { Reason } from '../../pacing/cues/reason.ts';
import type { QualityReason, SensorFault } from '../../sensing/moment.ts';
import type { FeedSetup } from '../record/feed.ts';

/**
 * The one thing to show now. A cue; `gentle` (no cue: all that is known); `held-steeply` (no cue either, but the bottle's tilt is known); `cannot-tell` (the estimate may not be acted on, `because` says why);
 * `no-guidance` (no samples: the link is away or stale); `guidance-off` (turned off by the caregiver);
 * `cues-withheld` (a study feed: cues are decided and kept, not shown); `waiting` (no feed yet).
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

/** Why nothing comes: the line is gone and being tried again; the sleeve's bytes are over; the line stands, but no samples come. */
export type LinkCause = 'lost' | 'ended' | 'silent' | 'sleeve-nameless' | 'other-sleeve' | 'too-busy';

/** What makes the sleeve's calibration doubtful; `-far` and `other-bottle`: figures are not to be trusted. */
export type CalibrationDoubt = 'zero-moved' | 'zero-far' | 'other-bottle' | 'amount-differs' | 'check-due';

/**
 * One line about this baby or this sleeve, beside the one thing to show; the page has the words.
 * `battery-soon`: its battery ends in half an hour; `battery-low`: in some minutes.
 * `cues-off`, `not-screened`, `with-plan`: what the screening came to. `cues-next-feed`: it allows all cues now, but this feed began without them.
 * `screen-again`: an answer rested on an age that has passed. `quieter`, `quietest`: past
 * feeds needed few cues. `whose-feed`: more than one baby is known, and none was chosen since the last feed. `own-feed-faster`: her own feed is
 * faster than the profile can follow, so some cues will come. `check-sleeve`: a sensor of the sleeve does not fit or is silent, and the feed goes on without it.
 * `nipple-runs-by-itself`: measured, it gives more without a suck than the pace lets through.
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

/** One complete picture of the live feed; each replaces the one before. No amount left, no fraction of the portion. */
export interface LiveView {
  showing: Showing;
  /** Why: for a cue its rule and numbers, for `cannot-tell` and `no-guidance` in one plain English line what is the matter and what to do. */
  because: Reason | string | null;
  /** With `no-guidance`: the same as `because`, for words in any language. */
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
  /** True where none is attached: the page is over what is kept. */
  noSleeve?: true;
  /** Of the sleeve's battery, rounded to what it is good for; null or absent: not known. */
  batteryPercent?: number | null;
  linkLabel: string;
  qualityReason: QualityReason | null;
  /** Trouble that does not stop the feed, in one plain sentence with its remedy (disk full); null when there is none. */
  notice: string | null;
  /** What it is about: codes of errors, and `raw-lost`. Absent: as `notice` is null. */
  noticeCodes?: readonly string[];
  /** Feeds that are over and not kept yet: they are only in the program's memory. Absent: none. */
  unkept?: readonly string[];
  /** What the last hold at rest told of the calibration: before and after a feed, and in it where its figures are not to be trusted. */
  calibration?: CalibrationDoubt | null;
  /** Weightiest first; absent or empty: none. */
  notices?: readonly NoticeKind[];
  /** With `check-sleeve`: what did not fit in this feed, the first one found first; absent or empty: a cell that is silent. */
  sensorFaults?: readonly SensorFault[];
  /** Who feeds now, where it was handed over within the feed. */
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

/** What a person may do from the page (and partly by the button). */
export type LiveCommand =
  | { kind: 'mute'; on: boolean }
  | { kind: 'dim'; on: boolean }
  | { kind: 'guidance-off'; on: boolean }
  /** In a study feed: the cues that the study withholds are shown from now on. */
  | { kind: 'show-cues' }
  | { kind: 'burped' }
  | { kind: 'hand-over'; caregiver: string | null }
  /** The sleeve that this page belongs to glows in a rhythm of its own for some seconds. */
  | { kind: 'which-sleeve' }
  | { kind: 'end-feed' }
  | { kind: 'discard-feed' }
  | { kind: 'setup'; setup: FeedSetup };
