/** Two short invented practice feeds for tests of the page: a poured minute, and three gentle ones with two cues. */
import type { PracticeFeed, PracticeFeeds } from '../../src/app/practice/practice-answers.ts';

const feed = (
  minutes: number,
  aheadOf: (sec: number) => number,
  tiltDeg: number,
  shown: PracticeFeed['shown'],
): PracticeFeed => {
  const rows = Array.from({ length: minutes * 120 }, (_, row) => row / 2);
  return {
    rowSec: 0.5,
    ahead: rows.map((sec) => Math.min(1, aheadOf(sec))),
    tiltDeg: rows.map(() => tiltDeg),
    teatIn: rows.map((sec) => sec < minutes * 60 - 0.5),
    shown,
  };
};

export const practiceFeeds = (): PracticeFeeds => ({
  steep: feed(1, (sec) => sec / 25, 145, [
    { atSec: 0, showing: 'gentle' },
    { atSec: 25, showing: 'tilt-down' },
  ]),
  followed: feed(3, (sec) => (sec < 25 ? sec / 25 : 0.3), 97, [
    { atSec: 0, showing: 'gentle' },
    { atSec: 25, showing: 'tilt-down' },
    { atSec: 35, showing: 'gentle' },
    { atSec: 120, showing: 'burp' },
    { atSec: 130, showing: 'gentle' },
  ]),
});
