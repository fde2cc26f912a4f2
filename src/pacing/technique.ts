/**
 * How a feed was given, for a caregiver who practices: time, how long the bottle was nearly level, the longest run without a pause, pauses and burps. It
 * gives no score and no amount of milk. With a doll and water no sucks are known, so that pauses are found by the bottle's tilt alone.
 *
 * A rest is: nipple out; or the bottle lowered by 8° or more below its usual tilt; or, where sucks are known, none for a while. A rest of 3 s is a
 * pause (3-5 s: a hospital's leaflet, Women & Infants Hospital, US). Nearly level: 70° to 110°, our own choice, no source (level is 90°).
 * A burp: as in burps.ts, or entered by hand.
 */

import type { Language } from './cues/words.ts';
import { paceParams } from './profile/profile.ts';
import { SHIPPED_PROFILE } from './profile/shipped-profile.ts';
import { type BurpRow, burpsTaken } from './rules/burps.ts';

/** The part of a stored row or a practice recording that is needed; two rows a second are enough. */
export type TechniqueRow = BurpRow;

export interface TechniqueMarks {
  /** Starts of sucks, rising. Left out or empty: not known, as with a doll. */
  suckAtSec?: readonly number[];
  /** "Burped", by the page or the button. */
  burpedAtSec?: readonly number[];
}

export interface Technique {
  /** From the first time in the mouth to the last, seconds. */
  feedSec: number;
  /** Time with the nipple in the mouth, and the part of it with the bottle nearly level. */
  inMouthSec: number;
  nearlyLevelSec: number;
  longestRunWithoutPauseSec: number;
  pauses: number;
  burps: number;
}

const PAUSE_SEC = 3;
const LEVEL_DEG = { from: 70, to: 110 } as const;
const LOWERED_DEG = 8;
/** The usual tilt is the mean over this; a tilt that is lower for longer becomes the usual one. Seconds. */
const USUAL_SEC = 10;
const NEW_HOLD_SEC = 30;
const { burp: BURP } = paceParams(SHIPPED_PROFILE);
/** A burp detected and one entered within this time are the same. */
const SAME_BURP_SEC = 30;
/** Longer gaps in the rows are not counted. */
const LONGEST_STEP_SEC = 2;

/** @param rows in time's order @returns null when the nipple never was in the mouth */
export function techniqueOf(rows: readonly TechniqueRow[], marks: TechniqueMarks = {}): Technique | null {
  const first = rows.findIndex((row) => row.teatInMouth);
  const last = rows.findLastIndex((row) => row.teatInMouth);
  if (first < 0) return null;
  const given = rows.slice(first, last + 1);
  const startSec = given[0]!.atSec;
  const endSec = given.at(-1)!.atSec;
  let inMouthSec = 0;
  let nearlyLevelSec = 0;
  for (const [i, row] of given.entries()) {
    const next = given[i + 1];
    if (next === undefined || !row.teatInMouth) continue;
    const stepSec = Math.min(LONGEST_STEP_SEC, next.atSec - row.atSec);
    inMouthSec += stepSec;
    if (row.tiltDeg >= LEVEL_DEG.from && row.tiltDeg <= LEVEL_DEG.to) nearlyLevelSec += stepSec;
  }
  const sucks = (marks.suckAtSec ?? []).filter((sec) => sec >= startSec && sec <= endSec);
  const pauses = pausesOf([...handRests(given), ...suckRests(sucks, startSec, endSec)]);
  return {
    feedSec: endSec - startSec,
    inMouthSec,
    nearlyLevelSec,
    longestRunWithoutPauseSec: longestRun(pauses, startSec, endSec),
    pauses: pauses.length,
    burps: burpsOf(given, marks.burpedAtSec ?? []),
  };
}

type Span = [fromSec: number, toSec: number];

/** Rests by the hand: nipple out, or bottle lowered. */
function handRests(rows: readonly TechniqueRow[]): Span[] {
  const rests: Span[] = [];
  let usualDeg = rows[0]!.tiltDeg;
  let fromSec: number | null = null;
  for (const [i, { atSec, tiltDeg, teatInMouth }] of rows.entries()) {
    const resting = !teatInMouth || tiltDeg < usualDeg - LOWERED_DEG;
    if (resting) fromSec ??= atSec;
    if (teatInMouth && fromSec !== null && atSec - fromSec > NEW_HOLD_SEC) usualDeg = tiltDeg;
    if (!resting) {
      if (fromSec !== null) rests.push([fromSec, atSec]);
      fromSec = null;
      const stepSec = atSec - (rows[i - 1]?.atSec ?? atSec);
      usualDeg += Math.min(1, stepSec / USUAL_SEC) * (tiltDeg - usualDeg);
    }
  }
  if (fromSec !== null) rests.push([fromSec, rows.at(-1)!.atSec]);
  return rests;
}

/** Rests by the baby: times without a suck that are long enough. */
function suckRests(sucks: readonly number[], startSec: number, endSec: number): Span[] {
  if (sucks.length === 0) return [];
  const marks = [startSec, ...sucks, endSec];
  return marks
    .slice(1)
    .map((to, i): Span => [marks[i]!, to])
    .filter(([from, to]) => to - from >= PAUSE_SEC);
}

/** Joins overlapping rests and drops short ones. */
function pausesOf(rests: Span[]): Span[] {
  const joined: Span[] = [];
  for (const [from, to] of rests.sort((a, b) => a[0] - b[0])) {
    const before = joined.at(-1);
    if (before && from <= before[1]) before[1] = Math.max(before[1], to);
    else joined.push([from, to]);
  }
  return joined.filter(([from, to]) => to - from >= PAUSE_SEC);
}

function longestRun(pauses: readonly Span[], startSec: number, endSec: number): number {
  let longest = 0;
  let fromSec = startSec;
  for (const [pauseFrom, pauseTo] of [...pauses, [endSec, endSec] as const]) {
    longest = Math.max(longest, pauseFrom - fromSec);
    fromSec = pauseTo;
  }
  return longest;
}

function burpsOf(rows: readonly TechniqueRow[], burpedAtSec: readonly number[]): number {
  const taken = burpsTaken(rows, BURP);
  const said = burpedAtSec.filter(
    (sec) => !taken.some(({ fromSec }) => Math.abs(fromSec - sec) < SAME_BURP_SEC),
  );
  return taken.length + said.length;
}

/** A few plain lines by language: what was done, without scores, praise or amounts. */
export const techniqueWords = (technique: Technique): Record<Language, string[]> => ({
  en: linesEn(technique),
  es: linesEs(technique),
});

function linesEn({ feedSec, inMouthSec, ...t }: Technique): string[] {
  return [
    `From first to last: ${minutesEn(feedSec)}, burps and breaks included.`,
    `Bottle nearly level: ${minutesEn(t.nearlyLevelSec)} of ${minutesEn(inMouthSec)} with the nipple in.`,
    `Longest run without a pause: ${minutesEn(t.longestRunWithoutPauseSec)}.`,
    `Pauses: ${t.pauses}. Burps: ${t.burps}.`,
  ];
}

function linesEs({ feedSec, inMouthSec, ...t }: Technique): string[] {
  return [
    `De principio a fin: ${minutesEs(feedSec)}, con eructos y descansos.`,
    `Biberón casi horizontal: ${minutesEs(t.nearlyLevelSec)} de ${minutesEs(inMouthSec)} con la tetina en la boca.`,
    `Tramo más largo sin pausa: ${minutesEs(t.longestRunWithoutPauseSec)}.`,
    `Pausas: ${t.pauses}. Eructos: ${t.burps}.`,
  ];
}

/** Below two minutes in steps of 5 s, else in half minutes. */
function minutesText(sec: number, seconds: string, minutes: string): string {
  if (sec < 120) return `${Math.round(sec / 5) * 5} ${seconds}`;
  const halves = Math.round(sec / 30);
  return `${Math.floor(halves / 2)}${halves % 2 === 1 ? '½' : ''} ${minutes}`;
}

const minutesEn = (sec: number): string => minutesText(sec, 'seconds', 'minutes');
const minutesEs = (sec: number): string => minutesText(sec, 'segundos', 'minutos');
