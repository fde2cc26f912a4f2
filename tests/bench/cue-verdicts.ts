/** Were the cues of a simulated feed right? Each against the truth, by the rules of the sleeve contract, section 5. */
import type { Cue } from '../../src/pacing/cues/cue.ts';
import type { CueKind } from '../../src/pacing/index.ts';
import type { FeedTruth } from '../../src/simulation/truth.ts';
import type { PacedFeed } from './paced-feed.ts';

export const firstSec = (cues: readonly Cue[], kind: CueKind): number | null =>
  cues.find((cue) => cue.kind === kind)?.atSec ?? null;

/** @returns when the ideal buckets cross first on the true milk; null when they never do */
export function idealSec({ buckets }: FeedTruth): number | null {
  const first = Math.min(...buckets.map(({ crossings }) => crossings[0] ?? Number.POSITIVE_INFINITY));
  return Number.isFinite(first) ? first : null;
}

const rowAt = (truth: FeedTruth, atSec: number): number =>
  Math.min(truth.atSec.length - 1, Math.max(0, Math.round(atSec * 4)));

const intakeAt = (truth: FeedTruth, atSec: number): number => truth.intakeSoFarMl[rowAt(truth, atSec)]!;

/** Tilt-downs that came within 5 s of a latch with no true crossing within a minute. */
export function countAfterLatch(cues: readonly Cue[], { events, buckets }: FeedTruth): number {
  return cues.filter(({ kind, atSec }) => {
    const soon = events.some((e) => e.kind === 'latch' && atSec >= e.atSec && atSec < e.atSec + 5);
    const cause = buckets.some((b) => b.crossings.some((sec) => Math.abs(sec - atSec) < 60));
    return kind === 'tilt-down' && soon && !cause;
  }).length;
}

/** Each burp cue: is the true volume at least what is due, less 1.5 mL, and did it come by the end of the first true pause past 1.5 mL more? */
export function burpsRight(
  cues: readonly Cue[],
  { truth, burpsTaken }: Pick<PacedFeed, 'truth' | 'burpsTaken'>,
): boolean[] {
  let lastCueSec = 0;
  return cues
    .filter((cue) => cue.kind === 'burp')
    .map(({ atSec }) => {
      const taken = burpsTaken.findLast(({ toSec }) => toSec < atSec);
      const countedFrom = Math.max(lastCueSec, taken?.toSec ?? 0);
      lastCueSec = atSec;
      const fromMl = intakeAt(truth, countedFrom);
      if (intakeAt(truth, atSec) - fromMl < 15 - 1.5) return false;
      const lateFromSec = truth.atSec.find(
        (sec) => sec > countedFrom && intakeAt(truth, sec) - fromMl >= 16.5,
      );
      if (lateFromSec === undefined || atSec <= lateFromSec) return true;
      const sucks = truth.suckTimes;
      const pauseAt = sucks.findIndex(
        (sec, i) => sec > lateFromSec && (sucks[i + 1] ?? Number.POSITIVE_INFINITY) - sec > 2.5,
      );
      const pauseEnd =
        pauseAt < 0 ? Number.POSITIVE_INFINITY : (sucks[pauseAt + 1] ?? Number.POSITIVE_INFINITY);
      return atSec <= pauseEnd + 0.5 || intakeAt(truth, atSec) - fromMl >= 30 - 1.5;
    });
}

const WINDOW_SEC = 150;
/** Share of the earlier sucks a minute; fading is well below it (`suckShare` of the profile is 0.4). */
const STEADY_SHARE = 0.6;

/** "Enough?" came while the true sucks of the last 2½ min with the nipple in were still near the earlier ones. */
export function askedWhileSteady(cues: readonly Cue[], truth: FeedTruth): boolean {
  const atSec = firstSec(cues, 'offer-stop');
  if (atSec === null) return false;
  let row = rowAt(truth, atSec);
  let windowSec = 0;
  while (row > 0 && windowSec < WINDOW_SEC) {
    row -= 1;
    windowSec += truth.onMouth[row]! / 4;
  }
  const fromSec = truth.atSec[row]!;
  const earlierSec = truth.onMouth.slice(0, row).filter((one) => one === 1).length / 4;
  const earlier = truth.suckTimes.filter((sec) => sec < fromSec).length / Math.max(1, earlierSec);
  const newest = truth.suckTimes.filter((sec) => sec >= fromSec && sec < atSec).length / windowSec;
  return newest >= STEADY_SHARE * earlier;
}
