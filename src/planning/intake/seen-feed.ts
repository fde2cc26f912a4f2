/**
 * What one past bottle says about the baby's rate. An emptied bottle says "at least this"; a refused one says next to nothing of
 * appetite; one that was poured in says "at most about this"; only a bottle with milk left in it says how much was wanted.
 */
import type { UnitGamma } from './gamma.ts';

/** A past bottle feed, top-ups with it. */
export interface SeenFeed {
  /** Milk that left the bottle, mL. */
  ml: number;
  /** Hours since the feed before, of whatever kind. */
  hours: number;
  /** The bottle came back empty. */
  emptied: boolean;
  /** Share of the milk, 0 to 1, that flowed faster than the band. */
  pouredShare: number;
  /** So many feeds together, of which only the sum is known; 1 where it is not said. */
  feeds?: number;
}

export const countOf = ({ feeds = 1 }: SeenFeed): number => feeds;

/** 5 mL is a good try, no more; up to 10 mL is a refused bottle here. Common practice, no source. */
export const REFUSED_UP_TO_ML = 10;
/** What leaves a refused bottle: exponential about this mean. Assumption, no source. */
const REFUSED_MEAN_ML = 6;
/** Odd feeds, of double the scatter, so that one of them does not move the rate. Assumption, no source. */
export const ODD_SHARE = 0.06;
export const ODD_TIMES = 1.8;

/** Feeds of one scatter, ordinary and odd ones. */
export interface FeedKind {
  usual: UnitGamma;
  odd: UnitGamma;
}

const density = ({ usual, odd }: FeedKind, u: number): number =>
  (1 - ODD_SHARE) * usual.density(u) + ODD_SHARE * odd.density(u);
const below = ({ usual, odd }: FeedKind, u: number): number =>
  (1 - ODD_SHARE) * usual.below(u) + ODD_SHARE * odd.below(u);

/**
 * When whoever feeds leads, more goes in than was wanted: once to twice as much, even on the logarithm, 44 % in the mean.
 * Beside it about 42 % (−53 to +269 %; Ventura, Childhood Obesity, 21 mothers, abstract).
 */
const LED_UP_TO_LOG = Math.LN2;
export const LED_SOURCE =
  'mothers who led took about 42 % more, −53 to +269 %, 21 mothers (Ventura, Childhood Obesity, abstract); its shape is an assumption';

/** With half of its milk above the band the flow led, not the baby; with none of it the baby did. Assumption, no source. */
const ledChance = (pouredShare: number): number => Math.min(1, 2 * pouredShare);

/**
 * How likely the feed is at a rate, up to a factor that is the same for all rates.
 * @param logRatio ln(amount ÷ what this rate and these hours come to)
 * @param refusedShare chance that a bottle is refused
 */
export function feedLikelihood(
  { ml, emptied, pouredShare }: SeenFeed,
  kind: FeedKind,
  logRatio: number,
  refusedShare: number,
): number {
  const led = ledChance(pouredShare);
  if (emptied) {
    const wanted = (1 - led) * (1 - below(kind, logRatio)) + led * ledAtLeast(kind, logRatio);
    return (1 - refusedShare) * wanted + FLOOR;
  }
  const asLed = led === 0 ? 0 : below(kind, logRatio) - below(kind, logRatio - LED_UP_TO_LOG);
  const taken = (1 - led) * density(kind, logRatio) + (led * asLed) / LED_UP_TO_LOG;
  // By the logarithm of the amount, as the densities are.
  const refused = (Math.max(0.5, ml) / REFUSED_MEAN_ML) * Math.exp(-ml / REFUSED_MEAN_ML);
  return refusedShare * refused + (1 - refusedShare) * taken + FLOOR;
}

/** Nothing is impossible: a slip of the pen weighs no more than this. */
const FLOOR = 1e-4;

/** Led until it was empty: at least this went in, of what was wanted and what was poured beside it. */
const LED_POINTS = [0.125, 0.375, 0.625, 0.875];
const ledAtLeast = (kind: FeedKind, logRatio: number): number =>
  LED_POINTS.reduce((sum, part) => sum + (1 - below(kind, logRatio - part * LED_UP_TO_LOG)), 0) /
  LED_POINTS.length;
