/**
 * Finds the bag that throws least away among those that seldom enough run short: first all bags of at most two sizes, every
 * one of them, exactly; then single bottles of the best are changed, added, dropped or swapped until nothing helps.
 * Every outcome is exact; only the search may miss a better bag (see the tests against exhaustion).
 */
import { meanMl } from '../intake/distribution.ts';
import type { DayKind } from '../intake/intake-model.ts';
import { type Bag, type Bottle, type Outcome, outcomeOf, outcomeUnless } from './serving.ts';

export interface Found {
  bag: Bag;
  outcome: Outcome;
}

export interface SearchLimits {
  feeds: number;
  /** Highest chance of running short. */
  shortLimit: number;
  /** Bottles in the bag, the spare not counted. */
  mostBottles: number;
  /** Milk for them, mL. */
  mostMl: number;
}

export interface SizeChoice {
  firstSizesMl: readonly number[];
  topUpSizesMl: readonly number[];
  lostIfUnopened: boolean;
  spare: Bottle | null;
}

/** How many of the best bags of two sizes are refined. */
const REFINED = 4;
const EPSILON = 1e-9;

/** Enough first; then the least thrown away; then the fewest bottles. */
function isBetter(a: Found, b: Found, shortLimit: number): boolean {
  const shortA = Math.max(0, a.outcome.shortChance - shortLimit);
  const shortB = Math.max(0, b.outcome.shortChance - shortLimit);
  if (Math.abs(shortA - shortB) > EPSILON) return shortA < shortB;
  const difference = a.outcome.thrownMl - b.outcome.thrownMl;
  if (Math.abs(difference) > EPSILON) return difference < 0;
  return countOf(a.bag) < countOf(b.bag);
}

export const countOf = ({ firsts, topUps }: Bag): number => firsts.length + topUps.length;
const totalOf = (bottles: readonly Bottle[]): number => bottles.reduce((sum, { ml }) => sum + ml, 0);

/** Exact outcomes, each reckoned once. */
class Memory {
  readonly seen = new Map<string, Found>();
  /** Given up in this climb: what was not better than a bag before is not better than a better one. */
  readonly given = new Set<string>();
  constructor(
    private readonly kinds: readonly DayKind[],
    private readonly keyOf: (bag: Bag) => string,
    private readonly homeLossMl: (bag: Bag) => number = () => 0,
  ) {}

  of(bag: Bag): Found {
    return this.seen.get(this.keyOf(bag)) ?? this.#keep(bag, outcomeOf(bag, this.kinds));
  }

  /** The bag, unless it cannot be better than `other`: most cannot, and need not be reckoned to the end. */
  ifBetter(bag: Bag, other: Found, shortLimit: number): Found | null {
    const key = this.keyOf(bag);
    if (this.given.has(key)) return null;
    let found = this.seen.get(key);
    if (!found) {
      if (other.outcome.shortChance > shortLimit) found = this.of(bag);
      else {
        const thrownMl = other.outcome.thrownMl - this.homeLossMl(bag) + EPSILON;
        const outcome = outcomeUnless(bag, this.kinds, { shortChance: shortLimit + EPSILON, thrownMl });
        if (!outcome) {
          this.given.add(key);
          return null;
        }
        found = this.#keep(bag, outcome);
      }
    }
    return isBetter(found, other, shortLimit) ? found : null;
  }

  #keep(bag: Bag, outcome: Outcome): Found {
    const found = { bag, outcome: { ...outcome, thrownMl: outcome.thrownMl + this.homeLossMl(bag) } };
    this.seen.set(this.keyOf(bag), found);
    return found;
  }
}

/** Kinds that tell most come first: what is likely, and then what asks for much. */
const heaviestFirst = (kinds: readonly DayKind[]): DayKind[] => {
  const wantedMl = (kind: DayKind): number => kind.feeds.reduce((sum, feed) => sum + meanMl(feed), 0);
  const weight = new Map(kinds.map((kind) => [kind, kind.chance * wantedMl(kind) ** 2]));
  return [...kinds].sort((a, b) => weight.get(b)! - weight.get(a)!);
};

const sizesKey = ({ firsts, topUps }: Bag): string =>
  `${firsts.map(({ ml }) => ml).join()}|${topUps.map(({ ml }) => ml).join()}`;

/** Bags filled at home, in sizes of her choice. @returns the best and all that were tried on the way */
export function searchSizes(
  kinds: readonly DayKind[],
  { feeds, shortLimit, mostBottles, mostMl }: SearchLimits,
  { firstSizesMl, topUpSizesMl, lostIfUnopened, spare }: SizeChoice,
): { best: Found | null; tried: Found[] } {
  const memory = new Memory(heaviestFirst(kinds), sizesKey);
  const bottle = (ml: number): Bottle => ({ ml, lostIfUnopened });
  const bagOf = (firstsMl: number[], topUpsMl: number[]): Bag => ({
    firsts: firstsMl.sort((a, b) => b - a).map(bottle),
    topUps: topUpsMl.sort((a, b) => a - b).map(bottle),
    spare,
  });
  const fits = (bag: Bag): boolean =>
    countOf(bag) <= mostBottles && totalOf(bag.firsts) + totalOf(bag.topUps) <= mostMl + EPSILON;

  for (const first of firstSizesMl) {
    for (const topUp of topUpSizesMl) {
      for (let count = 0; count <= mostBottles - feeds; count++) {
        const bag = bagOf(
          Array.from({ length: feeds }, () => first),
          Array.from({ length: count }, () => topUp),
        );
        if (fits(bag)) memory.of(bag);
      }
    }
  }
  /** Every way to change one first, or none, together with one top-up, or none. */
  const neighbours = (bag: Bag): Bag[] => {
    const firsts = bag.firsts.map(({ ml }) => ml);
    const topUps = bag.topUps.map(({ ml }) => ml);
    const otherFirsts = [
      firsts,
      ...distinct(firsts).flatMap((i) => firstSizesMl.map((ml) => firsts.with(i, ml))),
    ];
    const otherTopUps = [
      topUps,
      ...topUpSizesMl.map((ml) => [...topUps, ml]),
      ...distinct(topUps).flatMap((i) => [
        topUps.toSpliced(i, 1),
        ...topUpSizesMl.flatMap((ml) => [
          topUps.with(i, ml),
          ...topUpSizesMl.map((more) => [...topUps.with(i, ml), more]),
        ]),
      ]),
    ];
    return otherFirsts.flatMap((one) => otherTopUps.map((other) => bagOf([...one], [...other]))).filter(fits);
  };
  return refine(memory, neighbours, shortLimit);
}

const distinct = (values: readonly number[]): number[] =>
  values.flatMap((value, i) => (values.indexOf(value) === i ? [i] : []));

function refine(
  memory: Memory,
  neighbours: (bag: Bag) => Bag[],
  shortLimit: number,
): { best: Found | null; tried: Found[] } {
  const order = (a: Found, b: Found): number =>
    isBetter(a, b, shortLimit) ? -1 : isBetter(b, a, shortLimit) ? 1 : 0;
  const starts = [...memory.seen.values()].sort(order).slice(0, REFINED);
  let best: Found | null = null;
  for (const start of starts) {
    let here = start;
    memory.given.clear();
    for (;;) {
      let next = here;
      for (const bag of neighbours(here.bag)) {
        next = memory.ifBetter(bag, next, shortLimit) ?? next;
      }
      if (next === here) break;
      here = next;
    }
    if (!best || isBetter(here, best, shortLimit)) best = here;
  }
  return { best, tried: [...memory.seen.values()] };
}

/** A container that is sent as it is. */
export interface StoredBottle extends Bottle {
  id: string;
  /** True when its published time passes before it could be used after today, wherever it is. */
  lostAtHome: boolean;
}

/** Bags made of containers as they are stored, none poured over. What must be used today and stays at home counts as thrown away. */
export function searchStored(
  kinds: readonly DayKind[],
  { feeds, shortLimit, mostBottles }: SearchLimits,
  containers: readonly StoredBottle[],
  spare: Bottle | null,
): { best: Found | null; tried: Found[] } {
  const idsOf = (bottles: readonly Bottle[]): string[] => bottles.map((one) => (one as StoredBottle).id);
  const memory = new Memory(
    heaviestFirst(kinds),
    ({ firsts, topUps }) => `${idsOf(firsts).join()}|${idsOf(topUps).join()}`,
    ({ firsts, topUps }) => {
      const packed = new Set([...idsOf(firsts), ...idsOf(topUps)]);
      return totalOf(containers.filter(({ id, lostAtHome }) => lostAtHome && !packed.has(id)));
    },
  );
  const falling = [...containers].sort((a, b) => b.ml - a.ml || a.id.localeCompare(b.id, 'en'));
  const place = new Map(falling.map(({ id }, i) => [id, i]));
  const inOrder = (bottles: readonly Bottle[], direction: 1 | -1): StoredBottle[] =>
    ([...bottles] as StoredBottle[]).sort((a, b) => direction * (place.get(a.id)! - place.get(b.id)!));
  const bagOf = (firsts: readonly Bottle[], topUps: readonly Bottle[]): Bag => ({
    firsts: inOrder(firsts, 1),
    topUps: inOrder(topUps, -1),
    spare,
  });

  for (let start = 0; start + feeds <= falling.length; start++) {
    const rest = falling.slice(start + feeds);
    for (let count = 0; count <= Math.min(rest.length, mostBottles - feeds); count++) {
      for (let skip = 0; skip + count <= rest.length; skip++) {
        memory.of(bagOf(falling.slice(start, start + feeds), rest.slice(skip, skip + count)));
      }
    }
    const larger = falling.slice(0, start);
    for (let count = 1; count <= Math.min(larger.length, mostBottles - feeds); count++) {
      memory.of(bagOf(falling.slice(start, start + feeds), larger.slice(-count)));
    }
  }
  const neighbours = (bag: Bag): Bag[] => {
    const packed = new Set([...idsOf(bag.firsts), ...idsOf(bag.topUps)]);
    const home = falling.filter(({ id }) => !packed.has(id));
    const { firsts, topUps } = bag;
    const bags: Bag[] = [];
    firsts.forEach((_, i) => {
      for (const other of home) bags.push(bagOf(firsts.with(i, other), topUps));
      topUps.forEach((topUp, j) => {
        bags.push(bagOf(firsts.with(i, topUp), topUps.with(j, firsts[i]!)));
        for (const other of home) bags.push(bagOf(firsts.with(i, topUp), topUps.with(j, other)));
      });
    });
    topUps.forEach((_, j) => {
      bags.push(bagOf(firsts, topUps.toSpliced(j, 1)));
      for (const other of home) bags.push(bagOf(firsts, topUps.with(j, other)));
    });
    if (countOf(bag) < mostBottles) for (const other of home) bags.push(bagOf(firsts, [...topUps, other]));
    return bags;
  };
  return refine(memory, neighbours, shortLimit);
}
