/**
 * The baby's rate followed from day to day on a grid, exactly but for its step.
 *
 * z = ln(the baby's mL/h ÷ the curve's at that age). Before any feed z follows Student's t with 4 degrees of freedom, as wide as
 * babies differ. It wanders a little from day to day, now and then jumps, and now and then goes back to what it was before. A day's
 * own rate r = z + day, where most days differ by the published 14 % and some by much more (a growth spurt, an illness). Given r,
 * feeds are independent gamma amounts. Unknown beside z: how widely feeds scatter (four values), and whether this is a house where
 * bottles are emptied whatever is in them. One filter each, weighed by how well it foretells.
 */
import { BETWEEN_BABIES_SD_LOG, DAY_TO_DAY_SD_LOG } from './daily-intake.ts';
import { unitGamma } from './gamma.ts';
import { countOf, type FeedKind, feedLikelihood, ODD_TIMES, type SeenFeed } from './seen-feed.ts';

export const GRID_STEP = 0.04;
const GRID_HALF = 1.6;
const POINTS = Math.round((2 * GRID_HALF) / GRID_STEP) + 1;
export const GRID: readonly number[] = Array.from({ length: POINTS }, (_, i) => i * GRID_STEP - GRID_HALF);

/** Feed to feed, standard deviation ÷ mean, and how likely before any feed is known; 0.33 in the mean. Assumption, no source. */
const SCATTERS = [
  { scatter: 0.17, chance: 0.2 },
  { scatter: 0.27, chance: 0.3 },
  { scatter: 0.38, chance: 0.35 },
  { scatter: 0.55, chance: 0.15 },
] as const;

/**
 * Chance that bottles in this house are emptied whatever was wanted; then an emptied one tells nothing. Between 27 and 68 % of bottles
 * and cups are emptied in late infancy (Li 2010); how many for this reason nobody measured. Assumption, no source.
 */
const ALWAYS_EMPTIED_CHANCE = 0.06;
/** In such a house a bottle with milk left in it is rare. */
const LEFT_ALL_THE_SAME = 0.03;

const PRIOR_FREEDOM = 4;
/** A t of 4 degrees of freedom has √2 times the deviation of its scale: so that its deviation is the published one. */
export const PRIOR_SCALE = BETWEEN_BABIES_SD_LOG / Math.SQRT2;

/** Days unlike the others: their share, and how far they lie off. Assumption, no source. */
const ODD_DAYS = { share: 0.08, sdLog: 0.35 };
/** From one day to the next the rate wanders by 2 %, and once in 25 days by some 12 %. Assumption, no source. */
const WANDER = { sdLog: 0.02, jumpShare: 0.04, jumpSdLog: 0.12 };
/**
 * Once in twenty days it goes back to what the baby took before: an illness is over, or a spurt. "Before" is the mean of what was believed
 * on about ten days with bottles; until there were so many nothing is gone back to. Without it a week of illness hid what came after.
 * Assumption, no source.
 */
const GOES_BACK = { share: 0.05, days: 10 };

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
/** The small wandering is narrower than the step of the grid: three points with its variance. */
const WANDER_KERNEL = (() => {
  const jumps = kernel(9, (x) => normal(x, WANDER.jumpSdLog)).map((one) => one * WANDER.jumpShare);
  const aside = (0.5 * WANDER.sdLog ** 2) / GRID_STEP ** 2;
  const stay = 1 - WANDER.jumpShare;
  jumps[9]! += stay * (1 - 2 * aside);
  jumps[8]! += stay * aside;
  jumps[10]! += stay * aside;
  return jumps;
})();

const towards = (from: Float64Array, to: Float64Array, share: number): Float64Array =>
  from.map((one, p) => one + share * (to[p]! - one));

/** What would fall off the grid stays at its end. */
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

/** Likelihood at each z of something that depends on the day's r. */
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

/** One day of bottles, ready for the filter. */
export interface FilterDay {
  daysAgo: number;
  /** The curve's rate at the age of that day, mL/h. */
  curveMlPerHour: number;
  feeds: readonly SeenFeed[];
}

/** Weight of each filter and of each point in it; all of them together are 1. */
export interface RateBelief {
  parts: readonly { scatter: number; weights: Float64Array }[];
}

/** @param feeds the sum of so many: independent gammas add up to one with the root of their number less scatter */
const kindOf = (scatter: number, feeds: number): FeedKind => ({
  usual: unitGamma(scatter / Math.sqrt(feeds)),
  odd: unitGamma((ODD_TIMES * scatter) / Math.sqrt(feeds)),
});

/** Each is made when it is first asked for, and kept. */
const KINDS = SCATTERS.map(({ scatter }) => {
  const made = new Map<number, FeedKind>();
  return (feeds: number): FeedKind => {
    const kind = made.get(feeds) ?? kindOf(scatter, feeds);
    made.set(feeds, kind);
    return kind;
  };
});

/** Milk goes half by the hours since the feed before and half by the feed: between the two that are thinkable. Assumption, no source. */
const BY_HOURS = 0.5;

/** For each r: how likely the bottles of a day are, those that came back empty apart from the others. */
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

/** The same, in a house where bottles are emptied whatever was wanted, and in any other. */
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
 * What is known of z on the day to plan.
 * @param days past days in any order, each with at least one feed
 * @param refusedShare chance that a bottle is refused
 */
export function followRate(days: readonly FilterDay[], refusedShare: number): RateBelief {
  const inOrder = [...days].sort((a, b) => b.daysAgo - a.daysAgo);
  const parts = KINDS.flatMap((kind, k) => {
    const seen = inOrder.map((day) => dayLikelihoods(day, kind, refusedShare));
    return [false, true].map((alwaysEmptied) => {
      let weights = prior();
      let before = weights;
      let logEvidence = Math.log(
        SCATTERS[k]!.chance * (alwaysEmptied ? ALWAYS_EMPTIED_CHANCE : 1 - ALWAYS_EMPTIED_CHANCE),
      );
      inOrder.forEach((day, i) => {
        const likelihood = overDay(dayLikelihood(seen[i]!, day.feeds, alwaysEmptied));
        let sum = 0;
        for (let p = 0; p < POINTS; p++) sum += weights[p]! *= likelihood[p]!;
        logEvidence += Math.log(sum);
        weights = weights.map((one) => one / sum);
        const daysOn = day.daysAgo - (inOrder[i + 1]?.daysAgo ?? 0);
        before = towards(before, weights, 1 / Math.min(i + 1, GOES_BACK.days));
        const share = i + 1 < GOES_BACK.days ? 0 : GOES_BACK.share;
        for (let step = 0; step < daysOn; step++)
          weights = towards(spreadBy(weights, WANDER_KERNEL), before, share);
      });
      return { scatter: SCATTERS[k]!.scatter, weights, logEvidence };
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

/** What may be wanted on the day itself: z with a day's own difference. */
export const onTheDay = ({ parts }: RateBelief): RateBelief => ({
  parts: parts.map(({ scatter, weights }) => ({ scatter, weights: spreadBy(weights, DAY_KERNEL) })),
});

export function momentsOf({ parts }: RateBelief): { meanLog: number; sdLog: number; scatter: number } {
  let first = 0;
  let second = 0;
  let squares = 0;
  for (const { scatter, weights } of parts)
    for (let i = 0; i < POINTS; i++) {
      first += weights[i]! * GRID[i]!;
      second += weights[i]! * GRID[i]! ** 2;
      squares += weights[i]! * scatter ** 2;
    }
  return { meanLog: first, sdLog: Math.sqrt(Math.max(0, second - first ** 2)), scatter: Math.sqrt(squares) };
}
