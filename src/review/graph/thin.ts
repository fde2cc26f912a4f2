import type { Series } from './feed-trace.ts';

/**
 * Keeps at most a few points for each column of pixels: the first, lowest, highest and last, and gaps, so
 * that the thinned line covers the same pixels.
 * @param points in order of time
 * @param endMin right end of the axis; points beyond it are left out
 * @param columns number of pixel columns from 0 to `endMin`
 */
export function thin(points: Series, endMin: number, columns: number): Series {
  const kept: Series = [];
  let start = 0;
  while (start < points.length && points[start]!.min <= endMin) {
    const column = columnOf(points[start]!.min);
    let end = start + 1;
    while (end < points.length && columnOf(points[end]!.min) === column && points[end]!.min <= endMin) end++;
    keepOutline(points, start, end, kept);
    start = end;
  }
  return kept;

  function columnOf(min: number): number {
    return Math.floor((min / endMin) * columns);
  }
}

function keepOutline(points: Series, start: number, end: number, kept: Series): void {
  if (end - start <= 4) {
    for (let i = start; i < end; i++) kept.push(points[i]!);
    return;
  }
  const keep = new Set([start, end - 1]);
  let lowest = -1;
  let highest = -1;
  for (let i = start; i < end; i++) {
    const { amount } = points[i]!;
    if (amount === null) {
      keep.add(i);
      continue;
    }
    if (lowest < 0 || amount < points[lowest]!.amount!) lowest = i;
    if (highest < 0 || amount > points[highest]!.amount!) highest = i;
  }
  if (lowest >= 0) keep.add(lowest).add(highest);
  for (const i of [...keep].sort((a, b) => a - b)) kept.push(points[i]!);
}
