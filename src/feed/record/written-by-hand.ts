/**
 * What people enter: corrections of stored feeds, feeds without a sleeve, and events of the milk list. Types only: src/store stores and
 * checks them. Instants are milliseconds since 1970 UTC, volumes mL, durations seconds.
 */
import type { FeedSetup, FeedSummary, MilkKind } from './feed.ts';

/**
 * A correction of a feed; the measured feed itself is not changed. Of several corrections of one kind the latest counts.
 * `bottle-reading`: read from the bottle's marks, before (null: not read) and after. `setup`: corrected answers. `times`: corrected times, where the
 * host's clock was wrong. `after`: a step after the feed was done, or is taken back. `note`: the caregiver's own words; an empty text deletes the note.
 */
export type CorrectionContent =
  | { kind: 'bottle-reading'; offeredMl: number | null; leftMl: number }
  | { kind: 'note'; text: string }
  | { kind: 'setup'; setup: Partial<FeedSetup> }
  | { kind: 'times'; startedAtMs: number; endedAtMs: number | null }
  | { kind: 'after'; step: AfterStep; done: boolean };

/** Steps that may follow a feed, in order; each is entered with one touch at the time it is done. */
export type AfterStep = 'burp' | 'upright' | 'comfort-suck' | 'waited' | 'a-little-more';

export type Correction = CorrectionContent & {
  madeAtMs: number;
  /** Initials or name as typed; null: not given. */
  by: string | null;
};

/** The values that result from all corrections of a feed. */
export interface Corrected {
  startedAtMs: number;
  endedAtMs: number | null;
  setup: FeedSetup;
  reading: { offeredMl: number | null; leftMl: number } | null;
  note: string | null;
  /** Steps after the feed, and when they were entered; absent: none. */
  after?: Partial<Record<AfterStep, number>>;
}

/** How a feed without a sleeve went: at the breast, from a bottle, or a bottle that was refused. */
export type HandFeedKind = 'breast' | 'bottle' | 'refused';

/** A feed as entered by hand. Null: not given. */
export interface HandFeedEntry {
  kind: HandFeedKind;
  atMs: number;
  durationSec: number | null;
  offeredMl: number | null;
  leftMl: number | null;
  milkKind: MilkKind | null;
  side: 'left' | 'right' | 'both' | null;
  /** Initials of the caregiver, as typed. */
  caregiver: string | null;
  note: string | null;
  babyId: string | null;
  babyName: string | null;
}

/** A correction of a hand-written feed: the fields that were wrong, or a withdrawal. */
export type HandFeedCorrection = (
  | { kind: 'entry'; entry: Partial<HandFeedEntry> }
  | { kind: 'withdrawn' }
) & { madeAtMs: number; by: string | null };

/** A hand-written feed as stored. Its fields are the corrected values; `original` is the first version. */
export interface HandFeed extends HandFeedEntry {
  id: string;
  writtenAtMs: number;
  withdrawn: boolean;
  original: HandFeedEntry;
  corrections: HandFeedCorrection[];
}

/**
 * An event of the milk list. `entry` belongs to planning and is stored unchanged as JSON; the other fields are for searching.
 * `kind`: what happened; `container`: its label.
 */
export interface MilkEvent {
  atMs: number;
  babyId: string | null;
  container: string | null;
  kind: string;
  entry: unknown;
}

/** As stored; `no` grows with each event, in the order of writing. */
export type KeptMilkEvent = MilkEvent & { no: number };

/** A feed in a list. */
export interface ListedFeed extends FeedSummary {
  /** Start of the feed, as corrected; lists are sorted and searched by it. */
  atMs: number;
  /** Number of cues that the rules raised, shown or not. */
  cueCount: number;
  /** Number of cues that were shown; null where that was not recorded. */
  toldCount: number | null;
  /** Cues that the rules raised, by kind; a kind without a cue is absent. */
  cueCounts: Record<string, number>;
  /** Null without corrections. */
  corrected: Corrected | null;
}

/** All feeds of a period, oldest first. */
export interface FeedsBetween {
  feeds: ListedFeed[];
  handFeeds: HandFeed[];
}
