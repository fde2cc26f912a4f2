/**
 * The common part of the searches: comparison of bags, a cache of outcomes, and hill climbing from the best first bags
 * until no change helps. Every outcome is exact; only the search may miss a better bag (the tests compare with exhaustive search).
 */
import { meanMl } from '../intake/distribution.ts';
import type { DayKind } from '../intake/intake-model.ts';
import { type Bag, type Bottle, type Outcome, outcomeOf, outcomeUnless } from './serving.ts';

export interface Found {
  bag: Bag;
  /** Milk lost at home because of this bag counts as thrown away too. */
  outcome: Outcome;
  /** The quantity compared: milk thrown away plus the price of each bottle, mL. */
  costMl: number;
}

export interface SearchLimits {
  feeds: number;
  /** Highest chance of running short. */
  shortLimit: number;
  /** Most bottles in the bag, spare not counted. */
  mostBottles: number;
  /** Most milk in them, mL. */
  mostMl: number;
  /** Amount of milk, mL, that is as bad to throw away as one more bottle is to fill and wash. */
  bottlePriceMl: number;
}

/** Where the limit cannot be kept: price of one short day in a hundred, in milk, mL. Own choice, no source. */
const SHORT_DAY_PRICE_ML = 15;
/** Number of first bags from which the climb starts; one for plans that are only shown for comparison. */
const STARTS = 4;
const EPSILON = 1e-9;

export const countOf = ({ firsts, topUps, spare }: Bag): number =>
  firsts.length + topUps.length + (spare ? 1 : 0);
export const totalOf = (bottles: readonly Bottle[]): number => bottles.reduce((sum, { ml }) => sum + ml, 0);

type IsBetter = (a: Found, b: Found) => boolean;

/** Order: within the limit, then least cost, then fewest bottles. */
const withinLimit =
  (shortLimit: number): IsBetter =>
  (a, b) => {
    const shortA = Math.max(0, a.outcome.shortChance - shortLimit);
    const shortB = Math.max(0, b.outcome.shortChance - shortLimit);
    if (Math.abs(shortA - shortB) > EPSILON) return shortA < shortB;
    const difference = a.costMl - b.costMl;
    return Math.abs(difference) > EPSILON ? difference < 0 : countOf(a.bag) < countOf(b.bag);
  };

/** Used where no bag keeps the limit: a slightly lower chance of running short is not worth any number of bottles. */
const priced: IsBetter = (a, b) =>
  a.costMl + 100 * SHORT_DAY_PRICE_ML * a.outcome.shortChance <
  b.costMl + 100 * SHORT_DAY_PRICE_ML * b.outcome.shortChance - EPSILON;

export interface MemoryOptions {
  keyOf: (bag: Bag) => string;
  bottlePriceMl: number;
  homeLossMl?: (bag: Bag) => number;
}

/** Cache of exact outcomes. */
export class Memory {
  readonly seen = new Map<string, Found>();
  readonly #kinds: readonly DayKind[];
  readonly #options: MemoryOptions;

  constructor(kinds: readonly DayKind[], options: MemoryOptions) {
    this.#kinds = heaviestFirst(kinds);
    this.#options = options;
  }

  of(bag: Bag): Found {
    return this.seen.get(this.#options.keyOf(bag)) ?? this.#keep(bag, outcomeOf(bag, this.#kinds));
  }

  /**
   * The bag, unless it cannot be better than `other`: most cannot, and their computation is stopped early.
   * @param given bags rejected in this climb: a bag that was not better than an earlier one is not better than the present one
   */
  ifWithin(bag: Bag, other: Found, shortLimit: number, given: Set<string>): Found | null {
    const key = this.#options.keyOf(bag);
    if (given.has(key)) return null;
    const seen = this.seen.get(key);
    if (seen || other.outcome.shortChance > shortLimit) return seen ?? this.of(bag);
    const thrownMl = other.costMl - this.#extraMl(bag) + EPSILON;
    const outcome = outcomeUnless(bag, this.#kinds, { shortChance: shortLimit + EPSILON, thrownMl });
    if (outcome) return this.#keep(bag, outcome);
    given.add(key);
    return null;
  }

  #homeLossMl(bag: Bag): number {
    return this.#options.homeLossMl?.(bag) ?? 0;
  }

  #extraMl(bag: Bag): number {
    return this.#homeLossMl(bag) + this.#options.bottlePriceMl * countOf(bag);
  }

  #keep(bag: Bag, outcome: Outcome): Found {
    const found = {
      bag,
      outcome: { ...outcome, thrownMl: outcome.thrownMl + this.#homeLossMl(bag) },
      costMl: outcome.thrownMl + this.#extraMl(bag),
    };
    this.seen.set(this.#options.keyOf(bag), found);
    return found;
  }
}

/** Most informative kinds of day first: likely ones, then those with much milk wanted. */
function heaviestFirst(kinds: readonly DayKind[]): DayKind[] {
  const wantedMl = (kind: DayKind): number => kind.feeds.reduce((sum, feed) => sum + meanMl(feed), 0);
  const weight = new Map(kinds.map((kind) => [kind, kind.chance * wantedMl(kind) ** 2]));
  return [...kinds].sort((a, b) => weight.get(b)! - weight.get(a)!);
}

/** The best bag at a limit, starting from the bags in the cache; null if it is empty. */
export function refine(
  memory: Memory,
  neighbours: (bag: Bag) => Iterable<Bag>,
  shortLimit: number,
  isBeside = false,
): Found | null {
  const starts = isBeside ? 1 : STARTS;
  const best = climb(memory, neighbours, withinLimit(shortLimit), shortLimit, starts);
  if (!best || best.outcome.shortChance <= shortLimit) return best;
  return climb(memory, neighbours, priced, 0, starts);
}

function climb(
  memory: Memory,
  neighbours: (bag: Bag) => Iterable<Bag>,
  isBetter: IsBetter,
  shortLimit: number,
  starts: number,
): Found | null {
  const order = (a: Found, b: Found): number => (isBetter(a, b) ? -1 : isBetter(b, a) ? 1 : 0);
  let best: Found | null = null;
  for (const start of [...memory.seen.values()].sort(order).slice(0, starts)) {
    let here = start;
    const given = new Set<string>();
    for (;;) {
      let next = here;
      for (const bag of neighbours(here.bag)) {
        const found = memory.ifWithin(bag, next, shortLimit, given);
        if (found && isBetter(found, next)) next = found;
      }
      if (next === here) break;
      here = next;
    }
    if (!best || isBetter(here, best)) best = here;
  }
  return best;
}
