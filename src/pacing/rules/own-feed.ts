/**
 * Assumed intake of a baby at the breast over time, from the usual feed and the minutes. Each side gives half of its
 * milk in the first 16 % of its time and 85 % in the first 32 %: Lucas, Lucas and Baum 1980 (50 % by 2 min, 85 % by 4 min, day 6) over the 12½ min a
 * side of their 1981 feeds. That older babies keep this shape within their own time is our assumption. It gives the band of a gentle pace, not a target.
 */

export interface OwnFeed {
  usualFeedMl: number;
  /** Whole time at the breast, minutes. */
  minutes: number;
  /** Sides offered in one feed. */
  sides: 1 | 2;
}

/** Cumulative: share of a side's time, share of its milk. */
const SIDE_SHAPE: readonly (readonly [time: number, milk: number])[] = [
  [0, 0],
  [0.16, 0.5],
  [0.32, 0.85],
  [1, 1],
];

/** @returns rising points [minute, mL], linear in between */
export function ownFeedCurve({ usualFeedMl, minutes, sides }: OwnFeed): [minute: number, ml: number][] {
  const points: [number, number][] = [[0, 0]];
  for (let side = 0; side < sides; side += 1) {
    for (const [time, milk] of SIDE_SHAPE.slice(1)) {
      points.push([((side + time) * minutes) / sides, ((side + milk) * usualFeedMl) / sides]);
    }
  }
  return points;
}

/** @returns the greatest level, mL, that a bucket of this rate reaches on the curve; the curve is piecewise linear, so it is reached at a corner */
export function peakAheadMl(curve: readonly (readonly [number, number])[], rateMlPerMin: number): number {
  let aheadMl = 0;
  let peakMl = 0;
  for (let i = 1; i < curve.length; i += 1) {
    const [min0, ml0] = curve[i - 1]!;
    const [min1, ml1] = curve[i]!;
    aheadMl = Math.max(0, aheadMl + (ml1 - ml0) - rateMlPerMin * (min1 - min0));
    peakMl = Math.max(peakMl, aheadMl);
  }
  return peakMl;
}
