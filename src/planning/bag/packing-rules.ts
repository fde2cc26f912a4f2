/** Settings of the parent and the center that limit a plan of bottles. */

import { DAY_MS } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import { mlFromFlOz } from '../../base/units.ts';
import type { LocalTime } from '../milk/milk-times.ts';

export interface PackingRules {
  /** Highest chance of running short in the day, above 0, at most 0.5. */
  shortLimit: number;
  /** Largest number of bottles, spare included. */
  mostBottles: number;
  /** Amount of milk, mL, that is as bad to throw away as one more bottle is to fill and wash. */
  bottlePriceMl: number;
  /** Most milk in the bag, mL; unlimited where the baby's own feeds are known. */
  mostMl: number;
  /** "none" where milk must come in the containers it was stored in. */
  pouring: 'at-home' | 'none';
  /** Whether bottles that were not opened come back, or are thrown away. */
  unopened: 'comes-back' | 'thrown-away';
  /** 1 to 2 fl oz, or null. `last`: opened when nothing else is left. `kept-apart`: only after asking the parent; it is not part of the computation. */
  spare: { ml: number; rule: 'last' | 'kept-apart' } | null;
  firstSizesMl: readonly number[];
  topUpSizesMl: readonly number[];
  /** Rules of the center or of the place about times; they replace the published ones. */
  localTimes: readonly LocalTime[];
}

const flOz = (...sizes: number[]): number[] => sizes.map(mlFromFlOz);

/** Price of one more bottle in milk, mL; it leads to three to five bottles on most days. Own choice, no source. */
const USUAL_BOTTLE_PRICE_ML = 12;

/**
 * Sizes: 2 to 4 fl oz, more and smaller, top-ups of 1 to 2 (ABM Clinical Protocol 8, 2004); 3 fl oz is added by us, no source, so that few bottles are enough at a strict
 * limit. The limit of 5 in 100 days is ours, no source.
 */
export const USUAL_RULES: PackingRules = {
  shortLimit: 0.05,
  mostBottles: 14,
  bottlePriceMl: USUAL_BOTTLE_PRICE_ML,
  mostMl: Number.POSITIVE_INFINITY,
  pouring: 'at-home',
  unopened: 'comes-back',
  spare: null,
  firstSizesMl: flOz(2, 2.5, 3, 3.5, 4),
  topUpSizesMl: flOz(1, 1.5, 2, 3),
  localTimes: [],
};

export interface AwayTime {
  /** When the bottles leave the fridge, and when the parent is back. */
  fromMs: number;
  untilMs: number;
}

/** @throws PlainError when a rule or the time away is impossible */
export function checkRules(rules: PackingRules, { fromMs, untilMs }: AwayTime): void {
  const fail = (code: string, what: string, remedy: string): never => {
    throw new PlainError(code, what, remedy);
  };
  const { shortLimit, mostBottles, spare, firstSizesMl, topUpSizesMl } = rules;
  if (!(shortLimit > 0 && shortLimit <= 0.5))
    fail(
      'limit-impossible',
      `A limit of ${shortLimit} cannot be kept.`,
      'Give a chance above 0 and at most 0.5.',
    );
  if (!Number.isInteger(mostBottles) || mostBottles < 1 || mostBottles > 24)
    fail('bottles-impossible', `${mostBottles} bottles cannot be packed.`, 'Give a whole number, 1 to 24.');
  if (!(rules.bottlePriceMl >= 0 && rules.bottlePriceMl <= 60))
    fail('price-impossible', `A bottle cannot be worth ${rules.bottlePriceMl} mL.`, 'Give 0 to 60 mL.');
  if (spare && !(spare.ml >= 25 && spare.ml <= 62))
    fail('spare-impossible', `A spare of ${spare.ml} mL is not 1 to 2 fl oz.`, 'Give 30 to 60 mL.');
  for (const sizes of [firstSizesMl, topUpSizesMl])
    if (sizes.length === 0 || sizes.some((ml) => !(ml >= 10 && ml <= 300)))
      fail('sizes-impossible', 'The bottle sizes must be 10 to 300 mL.', 'Correct the list of sizes.');
  if (!(untilMs > fromMs) || untilMs - fromMs > DAY_MS)
    fail('away-impossible', 'The time away must end after it begins, within 24 hours.', 'Correct the times.');
}
