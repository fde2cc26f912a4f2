/** The JSON that the server answers with; the page shares these types. Types only. */
import type { FeedEvent, FeedSummary } from '../feed/feed.ts';
import type { Showing } from '../feed/live-view.ts';
import type { Cue } from '../pacing/cue.ts';
import type { ListedFeed } from './needs.ts';

/** Every refusal has this shape. `field` names the part of the body that is wrong, as in `setup.portionMl`. */
export interface ErrorAnswer {
  error: { code: string; message: string; remedy: string; field?: string };
}

export interface FeedListAnswer {
  feeds: ListedFeed[];
}

/** One minute of a feed, counted from the first latch. */
export interface MinuteRow {
  /** 1 for the first minute. */
  minute: number;
  /** Milk taken within this minute, which is also its mean flow in mL/min (the last minute is as long as it lasts). */
  takenMl: number;
  /** Milk taken from the first latch to the end of this minute, mL. */
  takenSoFarMl: number;
  cues: Cue['kind'][];
}

export interface FeedAnswer {
  feed: FeedSummary;
  /** True when the numbers are the refined ones, made after the feed. */
  refined: boolean;
  /** Device time of the first latch: cue and event times minus this are seconds into the feed. */
  feedStartSec: number;
  cues: Cue[];
  events: FeedEvent[];
  perMinute: MinuteRow[];
}

/** Whether the page is shared on the home network, and with how many. */
export type SharingAnswer =
  | { on: false }
  | {
      on: true;
      /** The address that a device opens once, with its code; null when there is none. */
      invitation: { address: string; leftSec: number } | null;
      devices: { number: number; sinceSec: number }[];
    };

/** How a feed was given: kind plain lines by language. No amounts. */
export type TechniqueLines = Record<string, string[]>;

/** One simulated feed for teaching, counted from the first latch. No amounts. */
export interface PracticeFeed {
  /** Time from row to row, s; row 0 is the first latch. */
  rowSec: number;
  /** How far ahead of a gentle pace, 0 to 1; null while unknown. */
  ahead: (number | null)[];
  tiltDeg: number[];
  teatIn: boolean[];
  /** What was shown from when on. */
  shown: { atSec: number; showing: Showing }[];
  /** How it was given, in words; absent where nothing can be said. */
  technique?: TechniqueLines;
}

/** The same baby and bottle, held steeply without heeding anything, and with a caregiver who follows the light. */
export interface PracticeFeeds {
  steep: PracticeFeed;
  followed: PracticeFeed;
}
