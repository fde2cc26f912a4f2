/**
 * The band of a breast-like feed: intake over time since the first latch. It is a comparison for reading a feed, not a target
 * and not a limit: its lower edge uses the means of small studies, mostly of newborns, and babies differ widely.
 *
 * Upper edge: the line above which a cue comes in this feed (feed-pace.ts). A pace bucket of `rate` and `depth` crosses when intake > depth + rate · t, counted from
 * any moment at which it was empty; from the first latch on, the nearer of both buckets decides. A baby who drinks slowly
 * first and fast later gets a cue below this edge, since the buckets do not carry slow times over.
 *
 * Lower edge: the lower of two published mean courses, never falling.
 */
import type { Course } from '../facts/feed-pace.ts';

/**
 * Mean of a whole session at one month: 106 mL in 36 min, 2.9 mL/min; at three months 4.3 (126 mL, 29 min), at six 5.5
 * (126 mL, 23 min). The slowest of the three is used, for any age.
 * Source: Kent JC et al. 2013, Breastfeed Med 8:401-407, exclusively breastfed, longitudinal; rates derived from its means.
 */
export const WHOLE_FEED_MEANS = [
  { months: 1, intakeMl: 106, minutes: 36 },
  { months: 3, intakeMl: 126, minutes: 29 },
  { months: 6, intakeMl: 126, minutes: 23 },
] as const;

/**
 * Mean course at two breasts, day 6, as (minute, mL): 37.5 mL from each, half of it by 2 min and 85 % by 4 min; the second
 * breast from minute 15; 25 min in all. Straight between these points, since no single exponential fits them.
 * Source: Lucas A, Lucas P, Baum JD 1980, Pediatr Res 14:179 (share by 2 and 4 min; 132 six-day-olds);
 * Lucas A, Lucas PJ, Baum JD 1981, Early Hum Dev 5:195-199 (75 mL in 25 min, taken mostly in minutes 0-4 and 15-19).
 */
const PER_BREAST_ML = 37.5;
export const TWO_BREASTS_COURSE: readonly (readonly [minute: number, intakeMl: number])[] = [
  [0, 0],
  [2, 0.5 * PER_BREAST_ML],
  [4, 0.85 * PER_BREAST_ML],
  [15, PER_BREAST_ML],
  [17, 1.5 * PER_BREAST_ML],
  [19, 1.85 * PER_BREAST_ML],
  [25, 2 * PER_BREAST_ML],
];

/** The courses at which a feed's buckets cross. */
type CueLines = readonly Course[];

/** @returns intake in mL above which drinking from the first latch on has brought a cue; `minute` ≥ 0 since that latch */
export const upperEdgeMl = (lines: CueLines, minute: number): number =>
  Math.min(...lines.map(({ startMl, mlPerMin }) => startMl + mlPerMin * minute));

/** @returns the minute at which the upper edge reaches `intakeMl`; 0 where it starts above it */
export const upperEdgeMinute = (lines: CueLines, intakeMl: number): number =>
  Math.max(0, ...lines.map(({ startMl, mlPerMin }) => (intakeMl - startMl) / mlPerMin));

/** @returns the minutes after the first latch at which two of the lines meet: corners of the upper edge */
export const upperEdgeCorners = (lines: CueLines): number[] =>
  lines
    .flatMap((one, i) =>
      lines.slice(i + 1).map((other) => (other.startMl - one.startMl) / (one.mlPerMin - other.mlPerMin)),
    )
    .filter((minute) => minute > 0 && Number.isFinite(minute));

/** @returns mean intake in mL at two breasts on day 6, flat after its end */
export function twoBreastsMl(minute: number): number {
  const after = TWO_BREASTS_COURSE.findIndex(([knotMinute]) => knotMinute > minute);
  if (after <= 0) return after === 0 ? 0 : TWO_BREASTS_COURSE.at(-1)![1];
  const [fromMinute, fromMl] = TWO_BREASTS_COURSE[after - 1]!;
  const [toMinute, toMl] = TWO_BREASTS_COURSE[after]!;
  return fromMl + ((minute - fromMinute) / (toMinute - fromMinute)) * (toMl - fromMl);
}

/** @returns mean intake in mL of a session at one month, flat after its end */
export function slowFeedMl(minute: number): number {
  const { intakeMl, minutes } = WHOLE_FEED_MEANS[0];
  return (Math.min(Math.max(minute, 0), minutes) / minutes) * intakeMl;
}

/** @returns the lower edge in mL: whichever of the two mean courses is lower at that minute */
export const lowerEdgeMl = (minute: number): number => Math.min(slowFeedMl(minute), twoBreastsMl(minute));
