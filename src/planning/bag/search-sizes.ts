/**
 * Bags filled at home, in any sizes: first all bags of at most two sizes; then single bottles of the best
 * are changed, added, dropped or swapped until nothing helps.
 */
import type { DayKind } from '../intake/intake-model.ts';
import { type Found, Memory, refine, type SearchLimits } from './search-memory.ts';
import type { Bag, Bottle } from './serving.ts';

/** How a list of bottles, in order of use, would be filled. */
export interface Laid {
  /** For each bottle: whether its milk is lost if it comes back unopened. */
  lostBack: readonly boolean[];
  /** Milk lost at home because of it, mL. */
  homeLossMl: number;
}

export interface SizeChoice {
  firstSizesMl: readonly number[];
  topUpSizesMl: readonly number[];
  lostIfUnopened: boolean;
  spare: Bottle | null;
  /** @returns null where the milk on hand does not fill these bottles; without this function there is always enough milk, and none is lost */
  layOut?: (sizesMl: readonly number[]) => Laid | null;
}

export interface Search {
  /** The best bag for each limit; null if no bag can be made. */
  best: (Found | null)[];
  tried: Found[];
}

const sizesKey = ({ firsts, topUps }: Bag): string =>
  `${firsts.map(({ ml }) => ml).join()}|${topUps.map(({ ml }) => ml).join()}`;

/** @param shortLimits several limits cost little more than one */
export function searchSizes(
  kinds: readonly DayKind[],
  limits: Omit<SearchLimits, 'shortLimit'>,
  choice: SizeChoice,
  shortLimits: readonly number[],
): Search {
  const { feeds, mostBottles, mostMl, bottlePriceMl } = limits;
  const { firstSizesMl, topUpSizesMl, lostIfUnopened, spare, layOut } = choice;
  const losses = new WeakMap<Bag, number>();
  const memory = new Memory(kinds, {
    keyOf: sizesKey,
    bottlePriceMl,
    homeLossMl: (bag) => losses.get(bag) ?? 0,
  });
  /** @returns null where it is not allowed, or cannot be filled */
  const bagOf = (firstsMl: number[], topUpsMl: number[]): Bag | null => {
    if (firstsMl.length + topUpsMl.length > mostBottles) return null;
    firstsMl.sort((a, b) => b - a);
    topUpsMl.sort((a, b) => a - b);
    const sizesMl = [...firstsMl, ...topUpsMl];
    if (sizesMl.reduce((sum, ml) => sum + ml, 0) > mostMl + 1e-9) return null;
    const laid = layOut ? layOut(spare ? [...sizesMl, spare.ml] : sizesMl) : null;
    if (layOut && !laid) return null;
    const bottle = (ml: number, i: number): Bottle => ({
      ml,
      lostIfUnopened: lostIfUnopened || (laid?.lostBack[i] ?? false),
    });
    const bag = {
      firsts: firstsMl.map(bottle),
      topUps: topUpsMl.map((ml, i) => bottle(ml, firstsMl.length + i)),
      spare: spare && bottle(spare.ml, sizesMl.length),
    };
    if (laid) losses.set(bag, laid.homeLossMl);
    return bag;
  };

  for (const first of firstSizesMl) {
    for (const topUp of topUpSizesMl) {
      for (let count = 0; count <= mostBottles - feeds; count++) {
        const bag = bagOf(repeated(first, feeds), repeated(topUp, count));
        if (bag) memory.of(bag);
      }
    }
  }
  const neighbours = function* (bag: Bag): Generator<Bag> {
    for (const [firsts, topUps] of changes(bag, firstSizesMl, topUpSizesMl)) {
      const changed = bagOf([...firsts], [...topUps]);
      if (changed) yield changed;
    }
  };
  const best = shortLimits.map((limit, i) => refine(memory, neighbours, limit, i > 0));
  return { best, tried: [...memory.seen.values()] };
}

const repeated = (ml: number, count: number): number[] => Array.from({ length: count }, () => ml);
const distinct = (values: readonly number[]): number[] =>
  values.flatMap((value, i) => (values.indexOf(value) === i ? [i] : []));

/** Every way to change one first bottle (or none) together with one top-up (or none). */
function changes(
  bag: Bag,
  firstSizesMl: readonly number[],
  topUpSizesMl: readonly number[],
): [number[], number[]][] {
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
  return otherFirsts.flatMap((one) => otherTopUps.map((other): [number[], number[]] => [one, other]));
}
