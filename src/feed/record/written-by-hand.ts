/**
 * What people put beside kept feeds, feeds that no sleeve measured, and what happened to milk. Types only: src/store keeps and
 * checks them. Instants are milliseconds since 1970 UTC, volumes mL, durations seconds.
 */
import type { FeedSetup, FeedSummary, MilkKind } from './feed.ts';

/**
 * Something put beside a feed afterwards; the feed itself stays as it was measured. Of several of one kind the latest counts.
 * `bottle-reading`: off the bottle's own marks, before (null: not read) and after. `setup`: the answers that were wrong.
 * `times`: the host's clock was wrong. `after`: a step after the feed was done, or was not after all. `note`: the caregiver's own words; an empty text takes a note back.
 */
export type CorrectionContent =
  | { kind: 'bottle-reading'; offeredMl: number | null; leftMl: number }
  | { kind: 'note'; text: string }
  | { kind: 'setup'; setup: Partial<FeedSetup> }
  | { kind: 'times'; startedAtMs: number; endedAtMs: number | null }
  | { kind: 'after'; step: AfterStep; done: boolean };

/** What may follow a feed, in its order; each is noted at one touch, when it was done. */
export type AfterStep = 'burp' | 'upright' | 'comfort-suck' | 'waited' | 'a-little-more';

export type Correction = CorrectionContent & {
  madeAtMs: number;
  /** Initials or name as written; null when nobody said. */
  by: string | null;
};

/** What the corrections of a feed come to, beside the original. */
export interface Corrected {
  startedAtMs: number;
  endedAtMs: number | null;
  setup: FeedSetup;
  reading: { offeredMl: number | null; leftMl: number } | null;
  note: string | null;
  /** Steps after the feed, and when they were noted; absent: none. */
  after?: Partial<Record<AfterStep, number>>;
}

/** How a feed without a sleeve went: at the breast, from a bottle, or a bottle that was refused. */
export type HandFeedKind = 'breast' | 'bottle' | 'refused';

/** A feed as it is written in by hand. Null: not said. */
export interface HandFeedEntry {
  kind: HandFeedKind;
  atMs: number;
  durationSec: number | null;
  offeredMl: number | null;
  leftMl: number | null;
  milkKind: MilkKind | null;
  side: 'left' | 'right' | 'both' | null;
  /** Initials of whoever fed, as written. */
  caregiver: string | null;
  note: string | null;
  babyId: string | null;
  babyName: string | null;
}

/** A correction of a hand-written feed: the fields that were wrong, or that it never was. */
export type HandFeedCorrection = (
  | { kind: 'entry'; entry: Partial<HandFeedEntry> }
  | { kind: 'withdrawn' }
) & { madeAtMs: number; by: string | null };

/** A hand-written feed as kept. The fields are what counts now; `original` is what was written first. */
export interface HandFeed extends HandFeedEntry {
  id: string;
  writtenAtMs: number;
  withdrawn: boolean;
  original: HandFeedEntry;
  corrections: HandFeedCorrection[];
}

/**
 * Something that happened to milk. `entry` is planning's and is kept as it is, as JSON; the fields before it are for finding.
 * `kind`: what happened; `container`: its label.
 */
export interface MilkEvent {
  atMs: number;
  babyId: string | null;
  container: string | null;
  kind: string;
  entry: unknown;
}

/** As kept; `no` grows with each event, in the order of writing. */
export type KeptMilkEvent = MilkEvent & { no: number };

/** A feed in a list. */
export interface ListedFeed extends FeedSummary {
  /** By this it is ordered and found: the start, as corrected. */
  atMs: number;
  /** What the rules found, shown or not. */
  cueCount: number;
  /** Cues that were shown to somebody; null where nobody wrote that down. */
  toldCount: number | null;
  /** What the rules found, by kind; a kind without a cue is absent. */
  cueCounts: Record<string, number>;
  /** Null while nothing was corrected. */
  corrected: Corrected | null;
}

/** All that belongs to a stretch of time, oldest first. */
export interface FeedsBetween {
  feeds: ListedFeed[];
  handFeeds: HandFeed[];
}
