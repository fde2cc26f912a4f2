/**
 * Is pacing learned? One caregiver, feeds randomised to cues shown or withheld: have the feeds with cues withheld changed?
 * The statistic is the mean logarithm of an outcome in the later half of those feeds less that in the earlier half; its
 * null distribution is that of all ways to split the same feeds in two (a permutation test, exact whatever the outcome's
 * distribution). It is tested only once, since repeated tests would find effects by chance. Pure.
 */

export interface Learned {
  /** Outcome in the later half over the earlier half, geometric means. */
  ratio: number;
  /** Interval of 95 %: the ratios that the same test, taken on both sides, does not reject. */
  low: number;
  high: number;
  /** One-sided chance of so large a change where nothing changed. */
  p: number;
  isLearned: boolean;
}

/** Feeds with cues withheld that the test needs. Of 20 feeds: the first six, then eight of the other 14. */
export const WITHHELD_FEEDS = 14;
const HALF = WITHHELD_FEEDS / 2;
const ALPHA = 0.05;
/** Limit of the logarithm of the ratio. */
const FURTHEST = Math.log(20);

/** Every way to choose the later half: places of the feeds in it, one choice after the other. */
const CHOICES: Uint8Array = Uint8Array.from(choices(0, HALF).flat());

function choices(from: number, count: number): number[][] {
  if (count === 0) return [[]];
  const chosen: number[][] = [];
  for (let first = from; first <= WITHHELD_FEEDS - count; first++)
    for (const rest of choices(first + 1, count - 1)) chosen.push([first, ...rest]);
  return chosen;
}

/**
 * @param outcomes of the feeds with cues withheld, in the order of time, all above zero; later ones than the test needs are ignored
 * @param wanted whether the outcome is to rise (minutes of the feed) or to fall (flow above the band)
 * @returns null before there are enough
 */
export function pacingLearned(outcomes: readonly number[], wanted: 'rise' | 'fall'): Learned | null {
  if (outcomes.length < WITHHELD_FEEDS) return null;
  const logs = outcomes.slice(0, WITHHELD_FEEDS).map(Math.log);
  const change = changeFrom(sumOf(logs.slice(HALF)), sumOf(logs));
  const p = shareAtLeast(logs, 0, wanted === 'rise' ? 1 : -1);
  return {
    ratio: Math.exp(change),
    low: Math.exp(edge(logs, change, -1)),
    high: Math.exp(edge(logs, change, 1)),
    p,
    isLearned: p <= ALPHA,
  };
}

const sumOf = (logs: readonly number[]): number => logs.reduce((sum, log) => sum + log, 0);

/** @returns mean of the later half less that of the earlier, from the sum of the later half */
const changeFrom = (later: number, all: number): number => (2 * later - all) / HALF;

/** @param shift taken out of the later half first @returns share of the choices with a change at least as large, in the direction of `sign` */
function shareAtLeast(logs: readonly number[], shift: number, sign: 1 | -1): number {
  const rest = logs.map((log, i) => (i < HALF ? log : log - shift));
  const seen = sign * sumOf(rest.slice(HALF)) - 1e-12;
  let atLeast = 0;
  for (let at = 0; at < CHOICES.length; at += HALF) {
    let sum = 0;
    for (let i = at; i < at + HALF; i++) sum += rest[CHOICES[i]!]!;
    if (sign * sum >= seen) atLeast++;
  }
  return atLeast / (CHOICES.length / HALF);
}

/** By bisection: the largest change on one side that is not rejected at 2.5 %. */
function edge(logs: readonly number[], change: number, side: 1 | -1): number {
  let kept = change;
  let rejected = side * FURTHEST;
  for (let i = 0; i < 30; i++) {
    const middle = (kept + rejected) / 2;
    if (shareAtLeast(logs, middle, side === 1 ? -1 : 1) > ALPHA / 2) kept = middle;
    else rejected = middle;
  }
  return kept;
}
