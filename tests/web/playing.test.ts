import { expect, it } from 'vitest';
import { lengthSec, practiceAt } from '../../src/web/practice/playing.ts';

const FEED = {
  rowSec: 0.5,
  ahead: Array.from({ length: 240 }, (_, row) => (row === 4 ? null : row / 240)),
  tiltDeg: Array.from({ length: 240 }, (_, row) => 90 + (row >= 120 ? 40 : 0)),
  teatIn: Array.from({ length: 240 }, (_, row) => row < 239),
  shown: [
    { atSec: 0, showing: 'gentle' as const },
    { atSec: 30, showing: 'lower-is-fine' as const },
    { atSec: 61, showing: 'tilt-down' as const },
    { atSec: 70, showing: 'gentle' as const },
  ],
};

it('stands where the time is', () => {
  expect(practiceAt(FEED, 0)).toMatchObject({ ahead: 0, tiltDeg: 90, showing: 'gentle', cues: 0, minute: 1 });
  expect(practiceAt(FEED, 2.2).ahead).toBeNull();
  expect(practiceAt(FEED, 31)).toMatchObject({ showing: 'lower-is-fine', cues: 0 });
  expect(practiceAt(FEED, 60.9)).toMatchObject({ showing: 'lower-is-fine', minute: 2, tiltDeg: 130 });
  expect(practiceAt(FEED, 61)).toMatchObject({ showing: 'tilt-down', cues: 1, over: false });
});

it('stays as it ended', () => {
  expect(lengthSec(FEED)).toBe(120);
  for (const atSec of [120, 1e6]) {
    expect(practiceAt(FEED, atSec)).toMatchObject({ over: true, teatIn: false, cues: 1, showing: 'gentle' });
  }
});
