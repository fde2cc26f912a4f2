/**
 * A baby's own feed at the breast, from test weighings (baby weighed before and after). One weighing is off by several grams and feeds differ, so that
 * the mean of a few feeds is drawn toward the published mean (normal prior, normal errors; any textbook of Bayesian statistics). Water that the baby
 * loses meanwhile is neglected, so the milk is slightly more. Pure.
 */
import { MILK_DENSITY_GRAMS_PER_ML } from '../../base/units.ts';

export interface WeighedFeed {
  /** Milliseconds since 1970 UTC. */
  atMs: number;
  /** Whole time at the breast, minutes. */
  minutes: number;
  sides: 1 | 2;
  /** The baby on the scale, in the same clothes and diaper, grams. */
  beforeGrams: number;
  afterGrams: number;
}

export interface OwnFeedKnown {
  feedMl: number;
  /** Standard deviation of the mean feed, mL. */
  sdMl: number;
  minutes: number;
  sides: 1 | 2;
  feeds: number;
}

/** With fewer weighed feeds no mean is computed. */
const FEWEST_WEIGHED = 3;

/** 76.0 ± 12.6 g a feed over 71 mothers: Kent, Mitoulas, Cregan et al. 2006, Pediatrics 117:e387 (abstract). */
const PUBLISHED = { meanGrams: 76, sdGrams: 12.6 };
/** 95 % of single test weighings are off by −12.4 to +15 mL: Savenije and Brand 2006, Arch Dis Child 91:F330 (abstract); with a strict technique about 5 g (Haase 2009). */
const TEST_WEIGHING_SD_GRAMS = 7;
/** Prior standard deviation between feeds of one baby, grams; it has the weight of four feeds. Own assumption, no source. */
const FEED_TO_FEED = { sdGrams: 25, counts: 4 };

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** @returns null for fewer than three */
export function ownFeedKnown(weighed: readonly WeighedFeed[]): OwnFeedKnown | null {
  if (weighed.length < FEWEST_WEIGHED) return null;
  const grams = weighed.map(({ beforeGrams, afterGrams }) => afterGrams - beforeGrams);
  const own = mean(grams);
  const n = grams.length;
  const squares = grams.reduce((sum, one) => sum + (one - own) ** 2, 0);
  const { sdGrams, counts } = FEED_TO_FEED;
  // The spread between feeds includes the error of the scale, so it is at least that.
  const spread = (squares + counts * (sdGrams ** 2 + TEST_WEIGHING_SD_GRAMS ** 2)) / (n - 1 + counts);
  const ofMean = Math.max(spread, TEST_WEIGHING_SD_GRAMS ** 2) / n;
  const weight = PUBLISHED.sdGrams ** 2 / (PUBLISHED.sdGrams ** 2 + ofMean);
  return {
    feedMl: (PUBLISHED.meanGrams + weight * (own - PUBLISHED.meanGrams)) / MILK_DENSITY_GRAMS_PER_ML,
    sdMl: Math.sqrt(weight * ofMean) / MILK_DENSITY_GRAMS_PER_ML,
    minutes: mean(weighed.map(({ minutes }) => minutes)),
    sides: weighed.filter(({ sides }) => sides === 2).length * 2 >= n ? 2 : 1,
    feeds: n,
  };
}
