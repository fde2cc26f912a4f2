/**
 * Spells of days on which a baby wants less or more than usual: an illness, a strike, a growth spurt. A hidden state beside the usual rate:
 * each night one may begin or end, so during an illness it stays possible that tomorrow is a usual day.
 */
import { GRID_STEP, POINTS } from './rate-grid.ts';

export const SPELLS_SOURCE =
  'assumption of this program; that children eat more after an illness: guiding principles for complementary feeding of the breastfed child (PAHO and WHO 2003), which are for 6 months on';

/** Each day of a spell may be its last; after a spell of less, half of the babies want more for a while (SPELLS_SOURCE). How often, how long and how far: assumption, no source. */
const ENDS = 1 / 5;
const THEN_MORE = 0.5;
/** Share of the ends after which the rate stays where it is, as the usual one. */
const STAYS = 0.15;
/** `begins`: chance for a usual night. `logs`: how far aside, with the share of each. */
const LESS = { begins: 0.008, logs: [-0.24, -0.4, -0.6, -0.8], shares: [0.3, 0.35, 0.25, 0.1] };
const MORE = { begins: 0.015, logs: [0.16, 0.28, 0.4], shares: [0.4, 0.4, 0.2] };

const FIRST_MORE = 1 + LESS.logs.length;
/** Steps of the grid that the rate lies aside of the usual one: without a spell, in each of less, in each of more. */
const ASIDE: readonly number[] = [0, ...LESS.logs, ...MORE.logs].map((log) => Math.round(log / GRID_STEP));
/** Share of each spell among those of its kind. */
const SHARES: readonly number[] = [0, ...LESS.shares, ...MORE.shares];

/** Weight of each usual rate, without a spell and in each spell; all add up to 1. */
export type Spells = readonly Float64Array[];

/** A rate beyond the end of the grid counts as its end. */
const onGrid = (p: number): number => Math.min(POINTS - 1, Math.max(0, p));

/** Before any day is known nobody is in a spell: the published spread was measured on single days, so they are in it. */
export const beforeSpells = (usual: Float64Array): Spells =>
  ASIDE.map((_, s) => (s === 0 ? usual : new Float64Array(POINTS)));

/**
 * What one day tells, written into the weights.
 * @param likelihood of the day's rate, at each point of the grid
 * @returns how likely the day was
 */
export function learn(spells: Spells, likelihood: Float64Array): number {
  let sum = 0;
  spells.forEach((weights, s) => {
    const aside = ASIDE[s]!;
    for (let p = 0; p < POINTS; p++) sum += weights[p]! *= likelihood[onGrid(p + aside)]!;
  });
  for (const weights of spells)
    for (let p = 0; p < POINTS; p++) {
      const weight = weights[p]! / sum;
      weights[p] = weight < NEGLIGIBLE ? 0 : weight;
    }
  return sum;
}

/** Smaller weights are left out: numbers near the smallest a computer knows are slow. */
const NEGLIGIBLE = 1e-14;

/** One night on. @param spread how the usual rate changes from day to day; in a spell it is not seen, and stays */
export function overNight(spells: Spells, spread: (usual: Float64Array) => Float64Array): Spells {
  const usual = spells[0]!;
  const less = new Float64Array(POINTS);
  const more = new Float64Array(POINTS);
  const none: Float64Array = usual.map((one) => one * (1 - LESS.begins - MORE.begins));
  for (let s = 1; s < spells.length; s++) {
    const weights = spells[s]!;
    const thenMore = s < FIRST_MORE ? THEN_MORE : 0;
    for (let p = 0; p < POINTS; p++) {
      const over = ENDS * weights[p]!;
      none[onGrid(p + ASIDE[s]!)]! += STAYS * over;
      more[p]! += (1 - STAYS) * thenMore * over;
      none[p]! += (1 - STAYS) * (1 - thenMore) * over;
    }
  }
  for (let p = 0; p < POINTS; p++) {
    less[p] = LESS.begins * usual[p]!;
    more[p]! += MORE.begins * usual[p]!;
  }
  return spells.map((weights, s): Float64Array => {
    if (s === 0) return spread(none);
    const begun = s < FIRST_MORE ? less : more;
    return weights.map((one, p) => (1 - ENDS) * one + SHARES[s]! * begun[p]!);
  });
}

/** The belief about the rate, whatever spell it is due to. */
export function asRate(spells: Spells): Float64Array {
  const rate = new Float64Array(POINTS);
  spells.forEach((weights, s) => {
    for (let p = 0; p < POINTS; p++) rate[onGrid(p + ASIDE[s]!)]! += weights[p]!;
  });
  return rate;
}
