/** What the page for practice is answered. Types only. */
import type { Showing } from '../../feed/live/live-view.ts';

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
