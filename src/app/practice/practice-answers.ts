/** Answers of the practice page. Types only. */
import type { Showing } from '../../feed/live/live-view.ts';

/** How a feed was given: plain lines by language. No amounts. */
export type TechniqueLines = Record<string, string[]>;

/** One simulated feed for teaching, counted from the first latch. No amounts. */
export interface PracticeFeed {
  /** Time from row to row, s; row 0 is the first latch. */
  rowSec: number;
  /** How far ahead of a gentle pace, 0 to 1; null while unknown. */
  ahead: (number | null)[];
  tiltDeg: number[];
  teatIn: boolean[];
  /** What was shown, and from when. */
  shown: { atSec: number; showing: Showing }[];
  /** How it was given, in words; absent if there is nothing to say. */
  technique?: TechniqueLines;
}

/** The same baby and bottle, once held steeply without following cues, and once with a caregiver who follows the light. */
export interface PracticeFeeds {
  steep: PracticeFeed;
  followed: PracticeFeed;
}
