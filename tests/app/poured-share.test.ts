import { describe, expect, it } from 'vitest';
import { shareAbove } from '../../src/app/packing/poured-share.ts';
import type { FeedRow } from '../../src/feed/record/feed.ts';

/** Half a minute at each flow, mL/min. */
const rowsAt = (...flows: (number | null)[]): FeedRow[] => {
  let intakeMl = 0;
  const rows = flows.map((flow, i) => {
    intakeMl += (flow ?? 0) / 2;
    return { atSec: 30 * (i + 1), milkMl: null, flowMlPerMin: flow, intakeMl, teatInMouth: true, tiltDeg: 0 };
  });
  return [{ atSec: 0, milkMl: null, flowMlPerMin: 0, intakeMl: 0, teatInMouth: true, tiltDeg: 0 }, ...rows];
};

describe('the share of a feed that was poured', () => {
  it('is told by milk, not by time', () => {
    expect(shareAbove(rowsAt(20, 5, 5, 5, 5), 14)).toBeCloseTo(0.5, 9);
    expect(shareAbove(rowsAt(6, 7, 8), 14)).toBe(0);
    expect(shareAbove(rowsAt(30, 25), 14)).toBe(1);
  });

  it('is nothing where nothing was taken, or no flow is known', () => {
    expect(shareAbove([], 14)).toBe(0);
    expect(shareAbove(rowsAt(null, null), 14)).toBe(0);
  });
});
