/** The values of a graph at one moment, in words. Pure. */
import type { FeedValues } from '../../review/facts/values.ts';
import type { FeedsWords } from './words.ts';

/** "4:07" */
export const clockAt = (sec: number): string =>
  `${Math.floor(sec / 60)}:${String(sec % 60).padStart(2, '0')}`;

/** @param index second since the first latch */
export function pointText(
  values: FeedValues,
  index: number,
  words: FeedsWords['values'],
  volume: (ml: number) => string,
): string {
  const taken = values.intakeMl[index] ?? null;
  const flow = values.flowMlPerMin[index] ?? null;
  const within = values.flowWithinMlPerMin[index] ?? null;
  const sucks = values.suckCount[index] ?? null;
  const tilt = values.tiltDeg[index] ?? null;
  const parts = [
    taken === null ? words.unknown : words.taken(volume(taken)),
    flow !== null && words.flow(flow.toFixed(1), within === null ? null : within.toFixed(1)),
    sucks !== null && words.sucks(sucks),
    values.teatIn[index] ? tilt !== null && words.angle(tilt) : words.out,
  ];
  return parts.filter((part) => part !== false).join(' · ');
}

/** Where the time axis lies in a drawn graph, as the drawing states. */
export interface AxisPlace {
  leftPx: number;
  rightPx: number;
  widthPx: number;
  endMin: number;
}

/** @param x pixels from the left edge of the drawing, which is shown `shownPx` wide @returns second of the feed, within 0 to `seconds` */
export function secondAt(x: number, shownPx: number, axis: AxisPlace, seconds: number): number {
  const drawnPx = (x / shownPx) * axis.widthPx;
  const share = (drawnPx - axis.leftPx) / (axis.rightPx - axis.leftPx);
  return Math.round(Math.min(seconds, Math.max(0, share * axis.endMin * 60)));
}

/** @returns pixels from the left edge of the drawing as shown */
export const placeOf = (sec: number, shownPx: number, axis: AxisPlace): number =>
  ((axis.leftPx + (sec / 60 / axis.endMin) * (axis.rightPx - axis.leftPx)) / axis.widthPx) * shownPx;
