/** The input of the indices of a feed: cut to the time of feeding, with common values computed once. Pure. */
import type { Quality, RefinedFeed } from '../../sensing/index.ts';
import type { IndexInput } from './indices.ts';
import { readingsOf, type Stretch, type SuckReading } from './readings.ts';

/** Columns of the feed from the first latch to the last moment with the nipple in, and common values computed from them. */
export interface Seen {
  input: IndexInput;
  atSec: number[];
  intakeMl: number[];
  milkSdMl: (number | null)[];
  fromSec: number;
  toSec: number;
  /** Whether the nipple was still out at the end of what was recorded. */
  endSeen: boolean;
  /** First the sucks as they were detected. */
  readings: SuckReading[];
  flow: number[];
  flowSd: number[];
  goodShare: number;
}

const GOOD: Quality = 'good';

export function seenOf(input: IndexInput): Seen | null {
  const { refined } = input;
  const { teatInMouth } = refined;
  const first = teatInMouth.indexOf(true);
  const last = teatInMouth.lastIndexOf(true);
  if (first < 0 || last <= first) return null;
  const cut = <T>(column: readonly T[]): T[] => column.slice(first, last + 1);
  const atSec = cut(refined.atSec);
  const fromSec = atSec[0]!;
  const toSec = atSec.at(-1)!;
  const sucks = refined.suckAtSec.filter((sec) => sec >= fromSec - 1 && sec <= toSec);
  const rows = cut(refined.teatInMouth.map((isIn, i) => (isIn ? i : -1))).filter((i) => i >= 0);
  const known = rows.filter((i) => refined.flowMlPerMin[i] !== null);
  const good = known.filter((i) => (refined.quality?.[i] ?? GOOD) === GOOD);
  return {
    input,
    atSec,
    intakeMl: cut(refined.intakeMl),
    milkSdMl: cut(refined.milkSdMl),
    fromSec,
    toSec,
    endSeen: last < teatInMouth.length - 1,
    readings: readingsOf(sucks, {
      blind: blindIn(refined, first, last),
      latchSec: atSec.filter((_, i) => teatInMouth[first + i] && !teatInMouth[first + i - 1]),
      isIn: (a, b) => !outBetween(refined, a, b),
    }),
    flow: known.map((i) => refined.flowMlPerMin[i]!),
    flowSd: known.map((i) => refined.flowSdMlPerMin?.[i] ?? Number.NaN),
    goodShare: rows.length === 0 ? 0 : good.length / rows.length,
  };
}

const outBetween = ({ atSec, teatInMouth }: RefinedFeed, fromSec: number, toSec: number): boolean =>
  atSec.some((sec, i) => sec > fromSec && sec < toSec && !teatInMouth[i]);

/** Stretches of rows without a measurement. */
function blindIn({ atSec, quality }: RefinedFeed, first: number, last: number): Stretch[] {
  const stretches: Stretch[] = [];
  for (let i = first + 1; i <= last; i++) {
    if (quality?.[i] !== 'invalid') continue;
    const before = stretches.at(-1);
    if (before && before.toSec === atSec[i - 1]) before.toSec = atSec[i]!;
    else stretches.push({ fromSec: atSec[i - 1]!, toSec: atSec[i]! });
  }
  return stretches;
}
