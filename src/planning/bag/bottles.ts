/**
 * Which bottles to pack: the sizes and number with the least cost (milk thrown away, bottles to wash) whose chance of running short stays below the
 * parent's limit. Outcomes are exact for the model of intake (serving.ts); the tests compare the search with exhaustive search and an integer
 * program. Milk left in an opened bottle always counts as thrown away, as by the strictest of the centers' rules; so does milk that
 * comes back unopened, or stays at home, if its time passes before it can be used.
 */

import { HOUR_MS } from '../../base/calendar.ts';
import { PlainError } from '../../base/errors.ts';
import { volumeText } from '../../base/units.ts';
import type { DayKind } from '../intake/intake-model.ts';
import { type Container, inOrderOfUse } from '../milk/milk.ts';
import { hasPassed, type LocalTime } from '../milk/milk-times.ts';
import { isFrozen } from '../milk/places.ts';
import { asPlanned } from '../milk/planned-thaw.ts';
import { type Drafted, draftPoured, draftStored, type Stock } from './drafts.ts';
import type { Fate, Packed, Rest } from './filling.ts';
import { type AwayTime, checkRules, type PackingRules, USUAL_RULES } from './packing-rules.ts';
import { type PlainPlan, plainPlans } from './plain-plans.ts';
import { countOf, type Found } from './search-memory.ts';
import type { Outcome } from './serving.ts';

/** `time-passes`: its time has passed, or will have before the end of the day away. `size-fits-less`: in its stored size another container wastes less. `comes-later`: enough other milk is used first. */
export type LeftBecause = 'held-back' | 'time-passes' | 'size-fits-less' | 'comes-later';

/** Another plan, shown beside. */
export interface Choice {
  /** The limit for which it is the best plan. */
  shortLimit: number;
  shortChance: number;
  thrownMl: number;
  sizesMl: number[];
}

export interface BottlePlan {
  /** In order of use: bottles of the feeds, top-ups, spare. */
  bottles: Packed[];
  outcome: Outcome;
  meetsLimit: boolean;
  /** What prevents the limit from being kept; null if it is kept. */
  limitedBy: 'milk' | 'rule-of-thumb' | 'bottles' | null;
  /** The best plan with one bottle fewer: within the limit if possible, else the one that runs short least often; null if there is none. */
  oneFewer: { shortChance: number; thrownMl: number } | null;
  /** The plans of a stricter and of a looser limit, with this one; by rising chance of running short. */
  choices: Choice[];
  /** Trade-off of milk thrown away against the chance of running short: the best bags by rising chance. */
  curve: { shortChance: number; thrownMl: number; bottles: number }[];
  plain: PlainPlan[];
  /** Containers that were poured from and not emptied. */
  rests: Rest[];
  /** Milk that is frozen now and thawed for this plan, mL: its published 24 hours start, opened or not. */
  thawedMl: number;
  /** Containers to take out of the freezer for it. */
  thaw: string[];
  left: { id: string; because: LeftBecause }[];
  /** A spare was asked for, but there is not enough milk for it. */
  spareMissing: boolean;
}

export interface Beside {
  lastWeekMostMl?: number | null;
  otherLimits?: readonly number[];
}

/** Limits that a family may choose among. */
export const LIMITS = [0.02, 0.05, 0.1, 0.2] as const;
/** Milk that came back or stayed at home can be used for this long after the day away. Own choice, no source. */
const USED_WITHIN_MS = 12 * HOUR_MS;

/**
 * @param kinds possible days (dayKinds)
 * @param beside lastWeekMostMl: most milk of any day of the last week for as many hours, for the simple plan; otherLimits: those of the choices
 * @throws PlainError when a rule is impossible, or there is too little milk to give each feed a bottle
 */
export function planBottles(
  kinds: readonly DayKind[],
  containers: readonly Container[],
  away: AwayTime,
  rules: PackingRules = USUAL_RULES,
  { lastWeekMostMl = null, otherLimits = besides(rules.shortLimit) }: Beside = {},
): BottlePlan {
  checkRules(rules, away);
  const lostIfUnopened = rules.unopened === 'thrown-away';
  const { usable, left } = sortOut(containers, away, rules.localTimes);
  const stock: Stock = { usable, fateOf: (container) => fateOf(container, away, rules.localTimes) };
  const shortLimits = [rules.shortLimit, ...otherLimits];
  const draft = (rules.pouring === 'at-home' ? draftPoured : draftStored)(kinds, stock, rules, shortLimits);
  const totalMl = usable.reduce((sum, { volumeMl }) => sum + volumeMl, 0);
  if (!draft) throw tooLittle(totalMl, kinds[0]!.feeds.length, rules);
  const packedIds = new Set(draft.bottles.flatMap(({ from }) => from.map(({ id }) => id)));
  const reached = Math.max(...usable.map(({ id }, i) => (packedIds.has(id) ? i : -1)));
  for (const [i, { id }] of usable.entries())
    if (!packedIds.has(id)) left.push({ id, because: i > reached ? 'comes-later' : 'size-fits-less' });
  const [best] = draft.best;
  const meetsLimit = best.outcome.shortChance <= rules.shortLimit + 1e-9;
  const hours = (away.untilMs - away.fromMs) / HOUR_MS;
  return {
    bottles: draft.bottles,
    rests: draft.rests,
    outcome: best.outcome,
    meetsLimit,
    limitedBy: meetsLimit ? null : limiting(best, totalMl, rules),
    oneFewer: oneFewer(best, draft.tried, rules.shortLimit),
    choices: choicesOf(draft.best, shortLimits),
    curve: curveOf([...draft.tried, best]),
    ...thawedFor(draft, usable),
    plain: plainPlans(kinds, { hours, lastWeekMostMl, lostIfUnopened }),
    left,
    spareMissing: rules.spare !== null && !draft.bottles.some(({ role }) => role === 'spare'),
  };
}

/** The next lower and the next higher limit. */
export function besides(limit: number): number[] {
  const stricter = LIMITS.filter((one) => one < limit - 1e-9).at(-1);
  const looser = LIMITS.find((one) => one > limit + 1e-9);
  return [stricter, looser].filter((one) => one !== undefined);
}

function choicesOf(best: readonly (Found | null)[], shortLimits: readonly number[]): Choice[] {
  const choices = best.flatMap((found, i) => {
    if (!found) return [];
    const { firsts, topUps, spare } = found.bag;
    const { shortChance, thrownMl } = found.outcome;
    const sizesMl = [...firsts, ...topUps, ...(spare ? [spare] : [])].map(({ ml }) => ml);
    return [{ shortLimit: shortLimits[i]!, shortChance, thrownMl, sizesMl }];
  });
  const keyOf = ({ sizesMl }: Choice): string => sizesMl.join();
  return choices
    .filter((choice, i) => choices.findIndex((other) => keyOf(other) === keyOf(choice)) === i)
    .sort((a, b) => a.shortChance - b.shortChance);
}

function oneFewer({ bag }: Found, tried: readonly Found[], shortLimit: number): BottlePlan['oneFewer'] {
  const fewer = tried.filter((one) => countOf(one.bag) === countOf(bag) - 1);
  if (fewer.length === 0) return null;
  const within = fewer.filter(({ outcome }) => outcome.shortChance <= shortLimit);
  const { outcome } =
    within.length > 0
      ? within.reduce((best, one) => (one.costMl < best.costMl ? one : best))
      : fewer.reduce((best, one) => (one.outcome.shortChance < best.outcome.shortChance ? one : best));
  return { shortChance: outcome.shortChance, thrownMl: outcome.thrownMl };
}

/** If two ounces more could be packed, the number of bottles is what prevents the limit from being kept. */
const ROOM_ML = 60;

function limiting({ bag }: Found, totalMl: number, rules: PackingRules): BottlePlan['limitedBy'] {
  const packedMl = [...bag.firsts, ...bag.topUps].reduce((sum, { ml }) => sum + ml, bag.spare?.ml ?? 0);
  if (totalMl - packedMl < ROOM_ML) return 'milk';
  return rules.mostMl - packedMl < ROOM_ML ? 'rule-of-thumb' : 'bottles';
}

function fateOf(container: Container, away: AwayTime, localTimes: readonly LocalTime[]): Fate {
  const atMs = away.untilMs + USED_WITHIN_MS;
  return {
    lostBack: hasPassed(asPlanned(container, away), atMs, localTimes),
    lostAtHome: hasPassed(container, atMs, localTimes),
  };
}

function sortOut(
  containers: readonly Container[],
  away: AwayTime,
  localTimes: readonly LocalTime[],
): { usable: Container[]; left: { id: string; because: LeftBecause }[] } {
  const left: { id: string; because: LeftBecause }[] = [];
  const usable = inOrderOfUse(containers).filter((container) => {
    const because: LeftBecause | null = container.heldBack
      ? 'held-back'
      : hasPassed(asPlanned(container, away), away.untilMs, localTimes)
        ? 'time-passes'
        : null;
    if (because) left.push({ id: container.id, because });
    return because === null;
  });
  return { usable, left };
}

function thawedFor(
  { bottles, rests }: Drafted,
  usable: readonly Container[],
): Pick<BottlePlan, 'thawedMl' | 'thaw'> {
  const frozen = new Set(usable.filter(isFrozen).map(({ id }) => id));
  const parts = [...bottles.flatMap(({ from }) => from), ...rests].filter(({ id }) => frozen.has(id));
  return {
    thawedMl: parts.reduce((sum, { ml }) => sum + ml, 0),
    thaw: [...new Set(parts.map(({ id }) => id))],
  };
}

function curveOf(tried: readonly Found[]): BottlePlan['curve'] {
  const points = tried
    .map(({ bag, outcome }) => ({
      shortChance: outcome.shortChance,
      thrownMl: outcome.thrownMl,
      bottles: countOf(bag),
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
        'Plan fewer feeds, or add containers that are not in the list. Pump output is not your supply.',
      );
}
