/**
 * The search's common part: which of two bags is better, what was reckoned already, and climbing from the best of the first ones
 * until no change helps. Every outcome is exact; only the search may miss a better bag (see the tests against exhaustion).
 */
import { meanMl } from '../intake/distribution.ts';
import type { DayKind } from '../intake/intake-model.ts';
import { type Bag, type Bottle, type Outcome, outcomeOf, outcomeUnless } from './serving.ts';

export interface Found {
  bag: Bag;
  /** What is lost at home by packing this bag counts as thrown away, too. */
  outcome: Outcome;
  /** What is compared: milk thrown away and the price of each bottle, mL. */
  costMl: number;
}

export interface SearchLimits {
  feeds: number;
  /** Highest chance of running short. */
  shortLimit: number;
  /** Bottles in the bag, the spare not counted. */
  mostBottles: number;
  /** Milk for them, mL. */
  mostMl: number;
  /** Milk that she would rather throw away than fill and wash one bottle more, mL. */
  bottlePriceMl: number;
}

/** Where the limit cannot be kept, a day of a hundred less is worth this much milk, mL. Own choice, no source. */
const SHORT_DAY_PRICE_ML = 15;
/** From how many of the best first bags is climbed; for a plan that only stands beside, from the best. */
const STARTS = 4;
const EPSILON = 1e-9;

export const countOf = ({ firsts, topUps, spare }: Bag): number =>
  firsts.length + topUps.length + (spare ? 1 : 0);
export const totalOf = (bottles: readonly Bottle[]): number => bottles.reduce((sum, { ml }) => sum + ml, 0);

type IsBetter = (a: Found, b: Found) => boolean;

/** Enough first; then the least cost; then the fewest bottles. */
const withinLimit =
  (shortLimit: number): IsBetter =>
  (a, b) => {
    const shortA = Math.max(0, a.outcome.shortChance - shortLimit);
    const shortB = Math.max(0, b.outcome.shortChance - shortLimit);
    if (Math.abs(shortA - shortB) > EPSILON) return shortA < shortB;
    const difference = a.costMl - b.costMl;
    return Math.abs(difference) > EPSILON ? difference < 0 : countOf(a.bag) < countOf(b.bag);
  };

/** Where nothing keeps to the limit: a bag that is short a little less often is not worth any number of bottles. */
const priced: IsBetter = (a, b) =>
  a.costMl + 100 * SHORT_DAY_PRICE_ML * a.outcome.shortChance <
  b.costMl + 100 * SHORT_DAY_PRICE_ML * b.outcome.shortChance - EPSILON;

export interface MemoryOptions {
  keyOf: (bag: Bag) => string;
  bottlePriceMl: number;
  homeLossMl?: (bag: Bag) => number;
}

/** Exact outcomes, each reckoned once. */
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
   * The bag, unless it cannot be better than `other`: most cannot, and need not be reckoned to the end.
   * @param given bags given up in this climb: what was not better than a bag before is not better than a better one
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

/** Kinds that tell most come first: what is likely, and then what asks for much. */
function heaviestFirst(kinds: readonly DayKind[]): DayKind[] {
  const wantedMl = (kind: DayKind): number => kind.feeds.reduce((sum, feed) => sum + meanMl(feed), 0);
  const weight = new Map(kinds.map((kind) => [kind, kind.chance * wantedMl(kind) ** 2]));
  return [...kinds].sort((a, b) => weight.get(b)! - weight.get(a)!);
}

/** The best bag at a limit, from what the memory has seen and all that can be reached from there; null where it has seen nothing. */
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
