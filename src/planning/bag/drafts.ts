/** A bag and the milk in it: poured at home into bottles of any size, or made of containers as they are stored. */
import { mlFromFlOz } from '../../base/units.ts';
import { mixed, quantileMl, summed } from '../intake/distribution.ts';
import type { DayKind } from '../intake/intake-model.ts';
import type { Container } from '../milk/milk.ts';
import { isFrozen } from '../milk/places.ts';
import { type Fate, fillBottles, layOutFrom, type Packed, type Rest } from './filling.ts';
import type { PackingRules } from './packing-rules.ts';
import type { Found } from './search-memory.ts';
import { type Search, searchSizes } from './search-sizes.ts';
import { type StoredBottle, searchStored } from './search-stored.ts';
import type { Bottle } from './serving.ts';

/** Milk that may be used, in order of use. */
export interface Stock {
  usable: readonly Container[];
  fateOf: (container: Container) => Fate;
}

export interface Drafted {
  /** The best bag for each limit; the first one is packed. */
  best: [Found, ...(Found | null)[]];
  tried: Found[];
  bottles: Packed[];
  rests: Rest[];
}

/** @returns null where no bag can be made */
export function draftPoured(
  kinds: readonly DayKind[],
  { usable, fateOf }: Stock,
  rules: PackingRules,
  shortLimits: readonly number[],
): Drafted | null {
  const feeds = kinds[0]!.feeds.length;
  const totalMl = usable.reduce((sum, { volumeMl }) => sum + volumeMl, 0);
  const { spare, bottlePriceMl } = rules;
  const lostIfUnopened = rules.unopened === 'thrown-away';
  const layOut = layOutFrom(usable, fateOf);
  const search = (firstSizesMl: readonly number[], withSpare: boolean): Search => {
    const spareMl = withSpare && spare ? spare.ml : 0;
    const limits = {
      feeds,
      bottlePriceMl,
      mostBottles: rules.mostBottles - (spareMl > 0 ? 1 : 0),
      mostMl: Math.min(totalMl, rules.mostMl) - spareMl,
    };
    const opened: Bottle | null =
      spareMl > 0 && spare?.rule === 'last' ? { ml: spareMl, lostIfUnopened } : null;
    // A spare that is kept apart needs milk too.
    const whole = (sizesMl: readonly number[]) =>
      layOut(spareMl > 0 && !opened ? [...sizesMl, spareMl] : sizesMl);
    const sizes = { firstSizesMl, topUpSizesMl: rules.topUpSizesMl, lostIfUnopened, spare: opened };
    return searchSizes(kinds, limits, { ...sizes, layOut: whole }, shortLimits);
  };
  // With little milk: first try smaller bottles, then no spare.
  const smaller = [...new Set([...rules.topUpSizesMl, ...rules.firstSizesMl])].sort((a, b) => a - b);
  const ways: [readonly number[], boolean][] = [
    [rules.firstSizesMl, true],
    [smaller, true],
    [smaller, false],
  ];
  for (const [sizes, withSpare] of ways) {
    const { best, tried } = search(sizes, withSpare);
    const [first, ...others] = best;
    if (!first) continue;
    const wanted = [
      ...first.bag.firsts.map(({ ml }) => ({ role: 'feed' as const, ml })),
      ...first.bag.topUps.map(({ ml }) => ({ role: 'top-up' as const, ml })),
      ...(spare && withSpare ? [{ role: 'spare' as const, ml: spare.ml }] : []),
    ];
    const filled = fillBottles(wanted, usable);
    if (filled) return { best: [first, ...others], tried, ...filled };
  }
  return null;
}

/** @returns null where no bag can be made */
export function draftStored(
  kinds: readonly DayKind[],
  { usable, fateOf }: Stock,
  rules: PackingRules,
  shortLimits: readonly number[],
): Drafted | null {
  const feeds = kinds[0]!.feeds.length;
  const spareContainer = rules.spare && nearest(usable, rules.spare.ml);
  const others = usable.filter((one) => one !== spareContainer);
  const asBottle = (container: Container): StoredBottle => {
    const { lostBack, lostAtHome } = fateOf(container);
    const lostIfUnopened = rules.unopened === 'thrown-away' || lostBack;
    return { id: container.id, ml: container.volumeMl, lostIfUnopened, lostAtHome };
  };
  const spare = spareContainer && rules.spare?.rule === 'last' ? asBottle(spareContainer) : null;
  const bounds = {
    feeds,
    bottlePriceMl: rules.bottlePriceMl,
    mostBottles: rules.mostBottles - (spareContainer ? 1 : 0),
  };
  const search = (count: number, limits: readonly number[], isProbe: boolean): Search =>
    searchStored(kinds, bounds, others.slice(0, count).map(asBottle), spare, limits, isProbe);
  // Fridge first, then oldest frozen: a frozen container is considered only if all before it are not enough.
  const [shortLimit] = shortLimits;
  const unfrozen = others.filter((one) => !isFrozen(one)).length;
  const total = mixed(kinds.map(({ chance, feeds: all }) => ({ chance, of: summed(all) })));
  const enoughMl = Math.min(rules.mostMl, quantileMl(total, 1 - shortLimit!)) - (spare?.ml ?? 0);
  let count = Math.max(feeds, unfrozen);
  const sumMl = (): number => others.slice(0, count).reduce((sum, { volumeMl }) => sum + volumeMl, 0);
  while (count < others.length && sumMl() < enoughMl) count += 1;
  const isEnough = (): boolean => {
    const [best] = search(count, [shortLimit!], true).best;
    return best != null && (best.outcome.shortChance <= shortLimit! || sumMl() >= rules.mostMl);
  };
  while (count < others.length && !isEnough()) count += 1;
  const found = search(count, shortLimits, false);
  const [first, ...more] = found.best;
  if (!first) return null;
  const whole = (role: Packed['role']) => (bottle: Bottle) => ({
    role,
    ml: bottle.ml,
    from: [{ id: (bottle as StoredBottle).id, ml: bottle.ml }],
  });
  const bottles = [...first.bag.firsts.map(whole('feed')), ...first.bag.topUps.map(whole('top-up'))];
  if (spareContainer) bottles.push(whole('spare')(asBottle(spareContainer)));
  return { best: [first, ...more], tried: found.tried, bottles, rests: [] };
}

/** A spare of about the size wanted, frozen if possible, since it may stay frozen until it is needed. */
function nearest(containers: readonly Container[], ml: number): Container | null {
  const near = containers.filter(({ volumeMl }) => Math.abs(volumeMl - ml) <= mlFromFlOz(0.5));
  const [first] = near.sort(
    (a, b) =>
      Number(isFrozen(b)) - Number(isFrozen(a)) || Math.abs(a.volumeMl - ml) - Math.abs(b.volumeMl - ml),
  );
  return first ?? null;
}
