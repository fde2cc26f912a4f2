/**
 * The outcome of a packed bag in a day. The rule for the caregiver, short enough for a label:
 * at each feed open that feed's bottle; while the baby still asks, open the next small one; when those are gone, the next
 * feed's bottle; the spare last. A bottle that was opened is never poured into another, and what is left in it goes with
 * that feed. Running short: the baby asks, and nothing is left.
 */
import type { Distribution } from '../intake/distribution.ts';
import type { DayKind } from '../intake/intake-model.ts';

export interface Bottle {
  ml: number;
  /** True when the milk is lost if the bottle comes back unopened. */
  lostIfUnopened: boolean;
}

export interface Bag {
  /** One for each feed, in order of use. */
  firsts: readonly Bottle[];
  /** Small bottles for a baby who is still hungry, in order of use. */
  topUps: readonly Bottle[];
  /** Opened when nothing else is left; null if there is none, or if it is kept apart (not part of the computation). */
  spare: Bottle | null;
}

export interface Outcome {
  /** Expected millilitres thrown away. */
  thrownMl: number;
  /** Chance that the bag runs short at any feed of the day. */
  shortChance: number;
  /** Expected millilitres that were wanted but missing. */
  missingMl: number;
  /** Expected number of bottles opened. */
  opened: number;
}

/** No bottle is opened for a smaller amount than this. Half a step of what people read. */
export const CLOSE_ML = 2.5;

/**
 * Exact outcome: the probability of every state of the bag is carried from feed to feed.
 * @param kinds kinds of day; their chances add up to 1
 */
export function outcomeOf(bag: Bag, kinds: readonly DayKind[]): Outcome {
  return outcomeUnless(bag, kinds, { shortChance: 2, thrownMl: Number.POSITIVE_INFINITY })!;
}

/** The exact outcome, or null as soon as either figure exceeds its bound; both only grow with each kind of day. */
export function outcomeUnless(
  bag: Bag,
  kinds: readonly DayKind[],
  above: { shortChance: number; thrownMl: number },
): Outcome | null {
  const whole: Outcome = { thrownMl: 0, shortChance: 0, missingMl: 0, opened: 0 };
  const lostMl = lostByState(bag);
  for (const { chance, feeds } of kinds) {
    const one = dayOutcome(bag, lostMl, feeds);
    whole.thrownMl += chance * one.thrownMl;
    whole.shortChance += chance * one.shortChance;
    whole.missingMl += chance * one.missingMl;
    whole.opened += chance * one.opened;
    if (whole.shortChance > above.shortChance || whole.thrownMl > above.thrownMl) return null;
  }
  return whole;
}

/**
 * A state is how many firsts f and top-ups t are gone, numbered f·(top-ups + 1) + t; the last one is "the spare, too".
 * @returns for each, the milk that is thrown away when the day ends there; null if unopened bottles are not lost
 */
function lostByState({ firsts, topUps, spare }: Bag): Float64Array | null {
  const lost = (bottles: readonly Bottle[]): number =>
    bottles.reduce((sum, { ml, lostIfUnopened }) => sum + (lostIfUnopened ? ml : 0), 0);
  const spares = spare ? [spare] : [];
  if (lost(firsts) + lost(topUps) + lost(spares) === 0) return null;
  const width = topUps.length + 1;
  const byState = new Float64Array((firsts.length + 1) * width + 1);
  for (let f = 0; f <= firsts.length; f++) {
    for (let t = 0; t < width; t++)
      byState[f * width + t] = lost(firsts.slice(f)) + lost(topUps.slice(t)) + lost(spares);
  }
  return byState;
}

/** Uses cumulative sums of the distributions, so that a bottle costs two look-ups, independent of the number of points. */
function dayOutcome(
  { firsts, topUps, spare }: Bag,
  lostMl: Float64Array | null,
  feeds: readonly Distribution[],
): Outcome {
  const width = topUps.length + 1;
  const empty = (firsts.length + 1) * width;
  let now = new Float64Array(empty + 1);
  let then = new Float64Array(empty + 1);
  now[0] = 1;
  let shortChance = 0;
  let thrownMl = 0;
  let missingMl = 0;
  let opened = 0;
  for (const feed of feeds) {
    const { ml, chanceTo, mlTo } = runningSums(feed);
    const all = ml.length;
    then.fill(0);
    missingMl += shortChance * mlTo[all]!;
    for (let state = 0; state <= empty; state++) {
      const before = now[state]!;
      if (before < NEGLIGIBLE) continue;
      let f = Math.floor(state / width);
      let t = state % width;
      let isOwn = true;
      let isEmpty = state === empty;
      let given = 0;
      let bottles = 0;
      // Points up to `from` were satisfied by earlier bottles; this bottle satisfies those up to `content` and leaves milk up to `exact`.
      let from = 0;
      while (from < all && !isEmpty) {
        if (isOwn && f < firsts.length) given += firsts[f++]!.ml;
        else if (t < topUps.length) given += topUps[t++]!.ml;
        else if (f < firsts.length) given += firsts[f++]!.ml;
        else {
          isEmpty = true;
          if (!spare) break;
          given += spare.ml;
        }
        isOwn = false;
        bottles += 1;
        const content = pointsUpTo(ml, given + CLOSE_ML);
        if (content <= from) continue;
        const exact = Math.max(from, pointsUpTo(ml, given));
        thrownMl += before * (given * (chanceTo[exact]! - chanceTo[from]!) - (mlTo[exact]! - mlTo[from]!));
        const weight = before * (chanceTo[content]! - chanceTo[from]!);
        opened += weight * bottles;
        then[isEmpty ? empty : f * width + t]! += weight;
        from = content;
      }
      if (from === all) continue;
      const weight = before * (chanceTo[all]! - chanceTo[from]!);
      shortChance += weight;
      missingMl += before * (mlTo[all]! - mlTo[from]!) - weight * given;
      opened += weight * bottles;
    }
    [now, then] = [then, now];
  }
  if (lostMl) for (let state = 0; state <= empty; state++) thrownMl += now[state]! * lostMl[state]!;
  return { thrownMl, shortChance, missingMl, opened };
}

/** States less likely than this are left out. */
const NEGLIGIBLE = 1e-9;

/** Chance, and chance times millilitres, of the first 0, 1, 2 … points. */
interface RunningSums {
  ml: readonly number[];
  chanceTo: Float64Array;
  mlTo: Float64Array;
}

const SUMS = new WeakMap<Distribution, RunningSums>();

function runningSums(feed: Distribution): RunningSums {
  let sums = SUMS.get(feed);
  if (!sums) {
    const { ml, chance } = feed;
    sums = { ml, chanceTo: new Float64Array(ml.length + 1), mlTo: new Float64Array(ml.length + 1) };
    for (let i = 0; i < ml.length; i++) {
      sums.chanceTo[i + 1] = sums.chanceTo[i]! + chance[i]!;
      sums.mlTo[i + 1] = sums.mlTo[i]! + chance[i]! * ml[i]!;
    }
    SUMS.set(feed, sums);
  }
  return sums;
}

/** @returns how many of the rising points are at most `limit`. */
function pointsUpTo(ml: readonly number[], limit: number): number {
  let low = 0;
  let high = ml.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (ml[middle]! <= limit) low = middle + 1;
    else high = middle;
  }
  return low;
}
