import { describe, expect, it } from 'vitest';
import { bottlePlace, HOLD_VIEW } from '../../src/web/practice/hold.ts';
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

describe('the bottle of a practice feed', () => {
  it.each([
    ['in the mouth', true, 30],
    ['out', false, 0],
  ] as const)('is seen whole however it is held, %s', (_, teatIn, fromDeg) => {
    const { left, top, width, height } = HOLD_VIEW;
    for (let tiltDeg = fromDeg; tiltDeg <= 150; tiltDeg += 5) {
      const { x, y, turnDeg } = bottlePlace(teatIn, tiltDeg);
      const [cos, sin] = [Math.cos((turnDeg * Math.PI) / 180), Math.sin((turnDeg * Math.PI) / 180)];
      // As drawn: 160 long from its tip, 29 wide to each side; lines are 4 wide.
      for (const [along, across] of [
        [0, 0],
        [160, 29],
        [160, -29],
      ] as const) {
        const at = [x + along * cos - across * sin, y + along * sin + across * cos] as const;
        expect(at[0], `${tiltDeg}°`).toBeGreaterThan(left + 2);
        expect(at[0], `${tiltDeg}°`).toBeLessThan(left + width - 2);
        expect(at[1], `${tiltDeg}°`).toBeGreaterThan(top + 2);
        expect(at[1], `${tiltDeg}°`).toBeLessThan(top + height - 2);
      }
    }
  });
});
