/** Bags made of containers as they are stored: first sequences of neighboring sizes, then single containers are exchanged. */
import type { DayKind } from '../intake/intake-model.ts';
import { Memory, refine, type SearchLimits, totalOf } from './search-memory.ts';
import type { Search } from './search-sizes.ts';
import type { Bag, Bottle } from './serving.ts';

/** A container that is packed as it is. */
export interface StoredBottle extends Bottle {
  id: string;
  /** True when its published time passes before it could be used after today, wherever it is. */
  lostAtHome: boolean;
}

/**
 * Bags made of containers as they are stored, without pouring. Milk that must be used today and stays at home counts as thrown away.
 * @param isProbe faster: only finds out whether a bag can be made
 */
export function searchStored(
  kinds: readonly DayKind[],
  { feeds, mostBottles, bottlePriceMl }: Pick<SearchLimits, 'feeds' | 'mostBottles' | 'bottlePriceMl'>,
  containers: readonly StoredBottle[],
  spare: Bottle | null,
  shortLimits: readonly number[],
  isProbe = false,
): Search {
  const idsOf = (bottles: readonly Bottle[]): string[] => bottles.map((one) => (one as StoredBottle).id);
  const memory = new Memory(kinds, {
    keyOf: ({ firsts, topUps }) => `${idsOf(firsts).join()}|${idsOf(topUps).join()}`,
    bottlePriceMl,
    homeLossMl: ({ firsts, topUps }) => {
      const packed = new Set([...idsOf(firsts), ...idsOf(topUps)]);
      return totalOf(containers.filter(({ id, lostAtHome }) => lostAtHome && !packed.has(id)));
    },
  });
  // Of two containers of the same size, the one that would be lost unopened comes first among the top-ups.
  const falling = [...containers].sort(
    (a, b) =>
      b.ml - a.ml || Number(a.lostIfUnopened) - Number(b.lostIfUnopened) || a.id.localeCompare(b.id, 'en'),
  );
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
      const fewer = topUps.toSpliced(j, 1);
      bags.push(bagOf(firsts, fewer));
      for (const [h, other] of home.entries()) {
        bags.push(bagOf(firsts, topUps.with(j, other)));
        firsts.forEach((__, i) => {
          bags.push(bagOf(firsts.with(i, other), fewer));
        });
        if (firsts.length + topUps.length < mostBottles)
          for (const more of home.slice(h + 1)) bags.push(bagOf(firsts, [...topUps.with(j, other), more]));
      }
    });
    if (firsts.length + topUps.length < mostBottles)
      for (const other of home) bags.push(bagOf(firsts, [...topUps, other]));
    return bags;
  };
  const best = shortLimits.map((limit, i) => refine(memory, neighbours, limit, isProbe || i > 0));
  return { best, tried: [...memory.seen.values()] };
}
