/**
 * Likelihood of one past bottle for a rate. An emptied bottle means "at least this much"; a refused one says hardly anything about
 * appetite; a poured one means "at most about this"; only a bottle with milk left says how much was wanted.
 */
import type { UnitGamma } from './gamma.ts';

/** A past bottle feed, including top-ups. */
export interface SeenFeed {
  /** Milk that left the bottle, mL. */
  ml: number;
  /** Hours since the feed before, of whatever kind. */
  hours: number;
  /** The bottle came back empty. */
  emptied: boolean;
  /** Share of the milk, 0 to 1, that flowed faster than the band. */
  pouredShare: number;
  /** Number of feeds of which only the sum is known; default 1. */
  feeds?: number;
}

export const countOf = ({ feeds = 1 }: SeenFeed): number => feeds;

/** A bottle of which at most this much was taken counts as refused. Common practice, no source. */
export const REFUSED_UP_TO_ML = 10;
/** Amount taken from a refused bottle: exponential distribution with this mean. Assumption, no source. */
const REFUSED_MEAN_ML = 6;
/** Share of unusual feeds with double scatter, so that a single one does not move the rate. Assumption, no source. */
export const ODD_SHARE = 0.06;
export const ODD_TIMES = 1.8;

/** Distributions for one scatter, for ordinary and unusual feeds. */
export interface FeedKind {
  usual: UnitGamma;
  odd: UnitGamma;
}

const density = ({ usual, odd }: FeedKind, u: number): number =>
  (1 - ODD_SHARE) * usual.density(u) + ODD_SHARE * odd.density(u);
const below = ({ usual, odd }: FeedKind, u: number): number =>
  (1 - ODD_SHARE) * usual.below(u) + ODD_SHARE * odd.below(u);

/**
 * If the caregiver leads, more milk goes in than was wanted: once to twice as much, uniform in the logarithm, 44 % in the mean.
 * For comparison: about 42 % (−53 to +269 %; Ventura, Childhood Obesity, 21 mothers, abstract).
 */
const LED_UP_TO_LOG = Math.LN2;
export const LED_SOURCE =
  'mothers who led took about 42 % more, −53 to +269 %, 21 mothers (Ventura, Childhood Obesity, abstract); its shape is an assumption';

/** Chance that the caregiver led: 1 with half of the milk above the band, 0 with none. Assumption, no source. */
const ledChance = (pouredShare: number): number => Math.min(1, 2 * pouredShare);

/**
 * Likelihood of the feed at a rate, up to a factor that is the same for all rates.
 * @param logRatio ln(amount ÷ expected amount for this rate and these hours)
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
  // With respect to the logarithm of the amount, like the other densities.
  const refused = (Math.max(0.5, ml) / REFUSED_MEAN_ML) * Math.exp(-ml / REFUSED_MEAN_ML);
  return refusedShare * refused + (1 - refusedShare) * taken + FLOOR;
}

/** Lower limit of a likelihood, so that a writing error cannot decide alone. */
const FLOOR = 1e-4;

/** Points for integrating over the excess when a bottle was led and emptied. */
const LED_POINTS = [0.125, 0.375, 0.625, 0.875];
const ledAtLeast = (kind: FeedKind, logRatio: number): number =>
  LED_POINTS.reduce((sum, part) => sum + (1 - below(kind, logRatio - part * LED_UP_TO_LOG)), 0) /
  LED_POINTS.length;
