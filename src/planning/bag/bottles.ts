/**
 * Which bottles to pack: sizes and number that throw least milk away, with the chance of running short under her limit.
 * Outcomes are exact for the model of intake (serving.ts); the search is checked against exhaustion and an integer
 * programme (tests). What is left in an opened bottle always counts as thrown away, the strictest of the centers' rules.
 */

import { DAY_MS } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import { mlFromFlOz, volumeText } from '../../base/units.ts';
import { mixed, quantileMl, summed } from '../intake/distribution.ts';
import type { DayKind } from '../intake/intake-model.ts';
import { type Container, inOrderOfUse } from '../milk/milk.ts';
import { hasPassed, type LocalTime } from '../milk/milk-times.ts';
import { countOf, type Found, type StoredBottle, searchSizes, searchStored } from './bag-search.ts';
import { fillBottles, type Packed, type Rest } from './filling.ts';
import { type AwayTime, checkRules, type PackingRules, USUAL_RULES } from './packing-rules.ts';
import { type PlainPlan, plainPlans } from './plain-plans.ts';
import type { Bottle, Outcome } from './serving.ts';

/** `time-passes`: it has passed already, or will have before she is back. `size-fits-less`: stored as it is, another wastes less. `comes-later`: enough stands before it in the order of use. */
export type LeftBecause = 'held-back' | 'time-passes' | 'size-fits-less' | 'comes-later';

export interface BottlePlan {
  /** In order of use: the feeds' bottles, the top-ups, the spare. */
  bottles: Packed[];
  outcome: Outcome;
  meetsLimit: boolean;
  /** What more milk thrown away buys: the best bags from seldom to often short. */
  curve: { shortChance: number; thrownMl: number; bottles: number }[];
  plain: PlainPlan[];
  /** Poured from and not emptied. */
  rests: Rest[];
  /** Milk that is frozen now and thawed for this plan, mL: its published 24 hours run, opened or not. */
  thawedMl: number;
  left: { id: string; because: LeftBecause }[];
  /** A wanted spare could not be made of what there is. */
  spareMissing: boolean;
}

/**
 * @param kinds ways the day may go (dayKinds)
 * @throws PlainError when a rule is impossible, or there is too little milk to give each feed a bottle
 */
export function planBottles(
  kinds: readonly DayKind[],
  containers: readonly Container[],
  away: AwayTime,
  rules: PackingRules = USUAL_RULES,
): BottlePlan {
  checkRules(rules, away);
  const lostIfUnopened = rules.unopened === 'thrown-away';
  const { usable, left } = sortOut(containers, away, rules.localTimes);
  const plan =
    rules.pouring === 'at-home'
      ? poured(kinds, usable, rules, lostIfUnopened)
      : stored(kinds, usable, away, rules, lostIfUnopened);
  const packedIds = new Set(plan.bottles.flatMap(({ from }) => from.map(({ id }) => id)));
  const reached = Math.max(...usable.map(({ id }, i) => (packedIds.has(id) ? i : -1)));
  for (const [i, { id }] of usable.entries())
    if (!packedIds.has(id)) left.push({ id, because: i > reached ? 'comes-later' : 'size-fits-less' });
  const { best, tried, ...rest } = plan;
  return {
    ...rest,
    outcome: best.outcome,
    meetsLimit: best.outcome.shortChance <= rules.shortLimit + 1e-9,
    curve: curveOf([...tried, best]),
    thawedMl: thawedFor(plan, usable),
    plain: plainPlans(kinds, { shortLimit: rules.shortLimit, lostIfUnopened }),
    left,
    spareMissing: rules.spare !== null && !plan.bottles.some(({ role }) => role === 'spare'),
  };
}

interface Drafted {
  best: Found;
  tried: Found[];
  bottles: Packed[];
  rests: Rest[];
}

function poured(
  kinds: readonly DayKind[],
  usable: readonly Container[],
  rules: PackingRules,
  lostIfUnopened: boolean,
): Drafted {
  const feeds = kinds[0]!.feeds.length;
  const totalMl = usable.reduce((sum, { volumeMl }) => sum + volumeMl, 0);
  const { spare } = rules;
  const spareBottle: Bottle | null = spare?.rule === 'last' ? { ml: spare.ml, lostIfUnopened } : null;
  const search = (firstSizesMl: readonly number[], withSpare: boolean) =>
    searchSizes(
      kinds,
      {
        feeds,
        shortLimit: rules.shortLimit,
        mostBottles: rules.mostBottles - (withSpare && spare ? 1 : 0),
        mostMl: totalMl - (withSpare ? (spare?.ml ?? 0) : 0),
      },
      {
        firstSizesMl,
        topUpSizesMl: rules.topUpSizesMl,
        lostIfUnopened,
        spare: withSpare ? spareBottle : null,
      },
    );
  // With little milk: smaller first bottles, then no spare, before giving up.
  const smaller = [...new Set([...rules.topUpSizesMl, ...rules.firstSizesMl])].sort((a, b) => a - b);
  let found = search(rules.firstSizesMl, true);
  let hasSpare = spare !== null;
  if (!found.best) found = search(smaller, true);
  if (!found.best) {
    found = search(smaller, false);
    hasSpare = false;
  }
  if (!found.best) throw tooLittle(totalMl, feeds, rules);
  const wanted = [
    ...found.best.bag.firsts.map(({ ml }) => ({ role: 'feed' as const, ml })),
    ...found.best.bag.topUps.map(({ ml }) => ({ role: 'top-up' as const, ml })),
    ...(hasSpare ? [{ role: 'spare' as const, ml: spare!.ml }] : []),
  ];
  return { best: found.best, tried: found.tried, ...fillBottles(wanted, usable) };
}

function stored(
  kinds: readonly DayKind[],
  usable: readonly Container[],
  { untilMs }: AwayTime,
  rules: PackingRules,
  lostIfUnopened: boolean,
): Drafted {
  const feeds = kinds[0]!.feeds.length;
  const spareContainer = rules.spare && nearest(usable, rules.spare.ml);
  const others = usable.filter((one) => one !== spareContainer);
  const asBottle = (container: Container): StoredBottle => {
    const lostAtHome = hasPassed(container, untilMs + DAY_MS / 2, rules.localTimes);
    return {
      id: container.id,
      ml: container.volumeMl,
      lostIfUnopened: lostIfUnopened || lostAtHome,
      lostAtHome,
    };
  };
  const spare = spareContainer && rules.spare?.rule === 'last' ? asBottle(spareContainer) : null;
  const limits = {
    feeds,
    shortLimit: rules.shortLimit,
    mostBottles: rules.mostBottles - (spareContainer ? 1 : 0),
    mostMl: Number.POSITIVE_INFINITY,
  };
  // Fridge first, then oldest frozen: no frozen container is looked at before those ahead of it are too little.
  const unfrozen = others.filter(({ place }) => place !== 'freezer').length;
  const total = mixed(kinds.map(({ chance, feeds: all }) => ({ chance, of: summed(all) })));
  const enoughMl = quantileMl(total, 1 - rules.shortLimit) - (spare?.ml ?? 0);
  let count = Math.max(feeds, unfrozen);
  const sumMl = (): number => others.slice(0, count).reduce((sum, { volumeMl }) => sum + volumeMl, 0);
  while (count < others.length && sumMl() < enoughMl) count += 1;
  let found = searchStored(kinds, limits, others.slice(0, count).map(asBottle), spare);
  while (count < others.length && !(found.best && found.best.outcome.shortChance <= rules.shortLimit)) {
    count += 1;
    found = searchStored(kinds, limits, others.slice(0, count).map(asBottle), spare);
  }
  if (!found.best) {
    const totalMl = usable.reduce((sum, { volumeMl }) => sum + volumeMl, 0);
    throw tooLittle(totalMl, feeds, rules);
  }
  const { firsts, topUps } = found.best.bag;
  const whole = (role: Packed['role']) => (bottle: Bottle) => ({
    role,
    ml: bottle.ml,
    from: [{ id: (bottle as StoredBottle).id, ml: bottle.ml }],
  });
  const bottles = [...firsts.map(whole('feed')), ...topUps.map(whole('top-up'))];
  if (spareContainer) bottles.push(whole('spare')(asBottle(spareContainer)));
  return { best: found.best, tried: found.tried, bottles, rests: [] };
}

/** A spare of about the size wanted, frozen if there is one: it may stay so until it is asked for. */
function nearest(containers: readonly Container[], ml: number): Container | null {
  const near = containers.filter(({ volumeMl }) => Math.abs(volumeMl - ml) <= mlFromFlOz(0.5));
  const [first] = near.sort(
    (a, b) =>
      Number(b.place === 'freezer') - Number(a.place === 'freezer') ||
      Math.abs(a.volumeMl - ml) - Math.abs(b.volumeMl - ml),
  );
  return first ?? null;
}

function sortOut(
  containers: readonly Container[],
  { untilMs }: AwayTime,
  localTimes: readonly LocalTime[],
): { usable: Container[]; left: { id: string; because: LeftBecause }[] } {
  const left: { id: string; because: LeftBecause }[] = [];
  const usable = inOrderOfUse(containers).filter((container) => {
    const because: LeftBecause | null = container.heldBack
      ? 'held-back'
      : hasPassed(container, untilMs, localTimes)
        ? 'time-passes'
        : null;
    if (because) left.push({ id: container.id, because });
    return because === null;
  });
  return { usable, left };
}

function thawedFor({ bottles, rests }: Drafted, usable: readonly Container[]): number {
  const frozen = new Set(usable.filter(({ place }) => place === 'freezer').map(({ id }) => id));
  return [...bottles.flatMap(({ from }) => from), ...rests]
    .filter(({ id }) => frozen.has(id))
    .reduce((sum, { ml }) => sum + ml, 0);
}

function curveOf(tried: readonly Found[]): BottlePlan['curve'] {
  const points = tried
    .map(({ bag, outcome }) => ({
      shortChance: outcome.shortChance,
      thrownMl: outcome.thrownMl,
      bottles: countOf(bag) + (bag.spare ? 1 : 0),
    }))
    .sort((a, b) => a.shortChance - b.shortChance || a.thrownMl - b.thrownMl);
  let least = Number.POSITIVE_INFINITY;
  return points.filter(({ thrownMl, shortChance }) => {
    if (thrownMl >= least - 1e-9 || shortChance > 0.5) return false;
    least = thrownMl;
    return true;
  });
}

function tooLittle(totalMl: number, feeds: number, { mostBottles }: PackingRules): PlainError {
  return mostBottles < feeds
    ? new PlainError(
        'bottles-too-few',
        `${mostBottles} bottles are too few for ${feeds} feeds.`,
        'Allow more bottles, or plan fewer feeds.',
      )
    : new PlainError(
        'milk-too-little',
        `The milk that can be used, ${volumeText(totalMl)}, does not give each of ${feeds} feeds a bottle.`,
        'Add containers, or plan fewer feeds. Pump output is not your supply.',
      );
}
