/**
 * The baby's rate from day to day, by a Bayesian filter on a grid; exact except for the step of the grid.
 *
 * z = ln(the baby's mL/h ÷ the curve's at that age). The prior of z is Student's t with 4 degrees of freedom, with the spread
 * between babies. From day to day it changes a little, and sometimes jumps; there are spells of days on which the rate lies aside of it
 * (spells.ts). A day's own rate is r = z + the spell + a day's difference, where most days differ by the published 14 % and a few by much more.
 * Given r, feeds are independent gamma amounts. Also unknown: the scatter of feeds (four values), and whether bottles in this family
 * are always emptied. One filter runs for each combination, weighted by how well it predicts.
 */
import { BETWEEN_BABIES_SD_LOG, DAY_TO_DAY_SD_LOG } from './daily-intake.ts';
import { unitGamma } from './gamma.ts';
import { GRID, GRID_STEP, POINTS } from './rate-grid.ts';
import { countOf, type FeedKind, feedLikelihood, ODD_TIMES, type SeenFeed } from './seen-feed.ts';
import { asRate, beforeSpells, learn, overNight } from './spells.ts';

/** Scatter between feeds, standard deviation ÷ mean, with prior probabilities; mean 0.33. Assumption, no source. */
const SCATTERS = [
  { scatter: 0.17, chance: 0.2 },
  { scatter: 0.27, chance: 0.3 },
  { scatter: 0.38, chance: 0.35 },
  { scatter: 0.55, chance: 0.15 },
] as const;

/**
 * Prior chance that bottles in this family are emptied whatever the baby wants; then an emptied bottle says nothing. Between 27 and 68 % of bottles
 * and cups are emptied in late infancy (Li 2010); how many of them for this reason was not measured. Assumption, no source.
 */
const ALWAYS_EMPTIED_CHANCE = 0.06;
/** In such a family a bottle with milk left in it is rare. */
const LEFT_ALL_THE_SAME = 0.03;

const PRIOR_FREEDOM = 4;
/** Student's t with 4 degrees of freedom has √2 times the standard deviation of its scale; this makes it the published one. */
export const PRIOR_SCALE = BETWEEN_BABIES_SD_LOG / Math.SQRT2;

/** Single unusual days: their share, and their standard deviation (log). Assumption, no source. */
const ODD_DAYS = { share: 0.05, sdLog: 0.35 };
/** From one day to the next the rate changes by 2 %, and once in 25 days by some 12 %. Assumption, no source. */
const WANDER = { sdLog: 0.02, jumpShare: 0.04, jumpSdLog: 0.12 };
const kernel = (half: number, weight: (offset: number) => number): Float64Array => {
  const raw = Float64Array.from({ length: 2 * half + 1 }, (_, i) => weight((i - half) * GRID_STEP));
  const sum = raw.reduce((total, one) => total + one, 0);
  return raw.map((one) => one / sum);
};
const normal = (x: number, sd: number): number => Math.exp(-0.5 * (x / sd) ** 2) / sd;

const DAY_KERNEL = kernel(
  30,
  (x) => (1 - ODD_DAYS.share) * normal(x, DAY_TO_DAY_SD_LOG) + ODD_DAYS.share * normal(x, ODD_DAYS.sdLog),
);
/** The small daily change is narrower than the step of the grid, so it is represented by three points with its variance. */
const WANDER_KERNEL = (() => {
  const jumps = kernel(9, (x) => normal(x, WANDER.jumpSdLog)).map((one) => one * WANDER.jumpShare);
  const aside = (0.5 * WANDER.sdLog ** 2) / GRID_STEP ** 2;
  const stay = 1 - WANDER.jumpShare;
  jumps[9]! += stay * (1 - 2 * aside);
  jumps[8]! += stay * aside;
  jumps[10]! += stay * aside;
  return jumps;
})();

/** Probability that would leave the grid stays at its end. */
function spreadBy(weights: Float64Array, by: Float64Array): Float64Array {
  const half = (by.length - 1) / 2;
  const out = new Float64Array(POINTS);
  for (let i = 0; i < POINTS; i++) {
    const weight = weights[i]!;
    if (weight < 1e-14) continue;
    for (let k = 0; k < by.length; k++) {
      const at = Math.min(POINTS - 1, Math.max(0, i + k - half));
      out[at]! += weight * by[k]!;
    }
  }
  return out;
}

/** Likelihood of z from the likelihood of the day's r. */
function overDay(likelihood: Float64Array): Float64Array {
  const half = (DAY_KERNEL.length - 1) / 2;
  const out = new Float64Array(POINTS);
  for (let i = 0; i < POINTS; i++) {
    let sum = 0;
    for (let k = 0; k < DAY_KERNEL.length; k++)
      sum += DAY_KERNEL[k]! * likelihood[Math.min(POINTS - 1, Math.max(0, i + k - half))]!;
    out[i] = sum;
  }
  return out;
}

/** The bottles of one day as input of the filter. */
export interface FilterDay {
  daysAgo: number;
  /** The curve's rate at the age of that day, mL/h. */
  curveMlPerHour: number;
  feeds: readonly SeenFeed[];
}

/** Weight of each filter and of each point in it; they add up to 1. */
export interface RateBelief {
  parts: readonly { scatter: number; weights: Float64Array }[];
}

/** @param feeds number of feeds in a sum: the sum of n independent gamma amounts has 1/√n of the scatter */
const kindOf = (scatter: number, feeds: number): FeedKind => ({
  usual: unitGamma(scatter / Math.sqrt(feeds)),
  odd: unitGamma((ODD_TIMES * scatter) / Math.sqrt(feeds)),
});

/** Each is computed when it is first needed, and cached. */
const KINDS = SCATTERS.map(({ scatter }) => {
  const made = new Map<number, FeedKind>();
  return (feeds: number): FeedKind => {
    const kind = made.get(feeds) ?? kindOf(scatter, feeds);
    made.set(feeds, kind);
    return kind;
  };
});

/** Expected milk depends half on the hours since the feed before and half on the feed alone: between the two extremes. Assumption, no source. */
const BY_HOURS = 0.5;

/** For each r: likelihood of the day's bottles, emptied ones separate from the others. */
function dayLikelihoods(
  { curveMlPerHour, feeds }: FilterDay,
  kind: (feeds: number) => FeedKind,
  refusedShare: number,
): { left: Float64Array; emptied: Float64Array } {
  const meanHours =
    feeds.reduce((sum, { hours }) => sum + hours, 0) / feeds.reduce((sum, feed) => sum + countOf(feed), 0);
  const left = new Float64Array(POINTS).fill(1);
  const emptied = new Float64Array(POINTS).fill(1);
  for (const feed of feeds) {
    const hours = BY_HOURS * feed.hours + (1 - BY_HOURS) * meanHours * countOf(feed);
    const ofSo = kind(countOf(feed));
    const atCurve = Math.log(Math.max(0.5, feed.ml) / (curveMlPerHour * hours));
    const of = feed.emptied ? emptied : left;
    for (let i = 0; i < POINTS; i++) of[i]! *= feedLikelihood(feed, ofSo, atCurve - GRID[i]!, refusedShare);
  }
  return { left, emptied };
}

/** The same, for a family that always empties bottles, and for others. */
function dayLikelihood(
  { left, emptied }: ReturnType<typeof dayLikelihoods>,
  feeds: readonly SeenFeed[],
  alwaysEmptied: boolean,
): Float64Array {
  if (!alwaysEmptied) return left.map((one, i) => one * emptied[i]!);
  const count = feeds.filter((feed) => feed.emptied).length;
  const factor = (1 - LEFT_ALL_THE_SAME) ** count * LEFT_ALL_THE_SAME ** (feeds.length - count);
  return left.map((one) => one * factor);
}

const prior = (): Float64Array => {
  const raw = Float64Array.from(
    GRID,
    (z) => (1 + (z / PRIOR_SCALE) ** 2 / PRIOR_FREEDOM) ** (-(PRIOR_FREEDOM + 1) / 2),
  );
  const sum = raw.reduce((total, one) => total + one, 0);
  return raw.map((one) => one / sum);
};

/**
 * The belief about z on the day to plan.
 * @param days past days in any order, each with at least one feed
 * @param refusedShare chance that a bottle is refused
 */
export function followRate(days: readonly FilterDay[], refusedShare: number): RateBelief {
  const inOrder = [...days].sort((a, b) => b.daysAgo - a.daysAgo);
  const parts = KINDS.flatMap((kind, k) => {
    const seen = inOrder.map((day) => dayLikelihoods(day, kind, refusedShare));
    return [false, true].map((alwaysEmptied) => {
      let spells = beforeSpells(prior());
      let logEvidence = Math.log(
        SCATTERS[k]!.chance * (alwaysEmptied ? ALWAYS_EMPTIED_CHANCE : 1 - ALWAYS_EMPTIED_CHANCE),
      );
      inOrder.forEach((day, i) => {
        logEvidence += Math.log(learn(spells, overDay(dayLikelihood(seen[i]!, day.feeds, alwaysEmptied))));
        const daysOn = day.daysAgo - (inOrder[i + 1]?.daysAgo ?? 0);
        for (let step = 0; step < daysOn; step++)
          spells = overNight(spells, (usual) => spreadBy(usual, WANDER_KERNEL));
      });
      return { scatter: SCATTERS[k]!.scatter, weights: asRate(spells), logEvidence };
    });
  });
  const top = Math.max(...parts.map(({ logEvidence }) => logEvidence));
  const total = parts.reduce((sum, { logEvidence }) => sum + Math.exp(logEvidence - top), 0);
  return {
    parts: parts.map(({ scatter, weights, logEvidence }) => {
      const chance = Math.exp(logEvidence - top) / total;
      return { scatter, weights: weights.map((one) => one * chance) };
    }),
  };
}

/** The belief about the rate on the day itself: z with a day's difference. */
export const onTheDay = ({ parts }: RateBelief): RateBelief => ({
  parts: parts.map(({ scatter, weights }) => ({ scatter, weights: spreadBy(weights, DAY_KERNEL) })),
});

/** Where the rate lies: its 10, 50 and 90 of 100, which tell more than mean and deviation while a spell may end; standard deviation; scatter. */
export interface RateSummary {
  lowLog: number;
  middleLog: number;
  highLog: number;
  sdLog: number;
  scatter: number;
}

export function summaryOf({ parts }: RateBelief): RateSummary {
  const total = new Float64Array(POINTS);
  let squares = 0;
  for (const { scatter, weights } of parts)
    for (let i = 0; i < POINTS; i++) {
      total[i]! += weights[i]!;
      squares += weights[i]! * scatter ** 2;
    }
  const mean = total.reduce((sum, weight, i) => sum + weight * GRID[i]!, 0);
  const variance = total.reduce((sum, weight, i) => sum + weight * (GRID[i]! - mean) ** 2, 0);
  return {
    lowLog: quantileLog(total, 0.1),
    middleLog: quantileLog(total, 0.5),
    highLog: quantileLog(total, 0.9),
    sdLog: Math.sqrt(variance),
    scatter: Math.sqrt(squares),
  };
}

/** Each point stands for the step around it. */
function quantileLog(weights: Float64Array, share: number): number {
  let sum = 0;
  for (const [i, weight] of weights.entries()) {
    if (sum + weight >= share) return GRID[i]! + GRID_STEP * ((share - sum) / weight - 0.5);
    sum += weight;
  }
  return GRID.at(-1)!;
}
