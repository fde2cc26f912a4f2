/** The state of a practice feed at a moment. Pure. */

import type { PracticeFeed } from '../../app/practice/practice-answers.ts';
import type { Showing } from '../../feed/live/live-view.ts';
import { isCue } from '../live/tone.ts';

export interface PracticeNow {
  ahead: number | null;
  tiltDeg: number;
  teatIn: boolean;
  showing: Showing;
  /** Cues so far, without hints. */
  cues: number;
  /** Whole minutes since the first suck, from 1. */
  minute: number;
  over: boolean;
}

export const lengthSec = (feed: PracticeFeed): number => feed.ahead.length * feed.rowSec;

/** @param atSec  since the first suck; after the end the feed stays as it ended */
export function practiceAt(feed: PracticeFeed, atSec: number): PracticeNow {
  const endSec = lengthSec(feed);
  const sec = Math.max(0, Math.min(atSec, endSec));
  const row = Math.min(feed.ahead.length - 1, Math.floor(sec / feed.rowSec));
  const begun = feed.shown.filter((one) => one.atSec <= sec);
  return {
    ahead: feed.ahead[row] ?? null,
    tiltDeg: feed.tiltDeg[row] ?? 90,
    teatIn: feed.teatIn[row] ?? false,
    showing: begun.at(-1)?.showing ?? 'gentle',
    cues: begun.filter(({ showing }) => isCue(showing)).length,
    minute: Math.floor(sec / 60) + 1,
    over: atSec >= endSec,
  };
}
