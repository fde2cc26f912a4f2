/**
 * Babies that do not follow the planner's model, and their caregivers. Invented. Feeds have tails of Student's t, good and bad days come
 * in runs, rates drift; there are growth spurts, days of illness, a strike. Past bottles are known as by a sleeve and a caregiver:
 * a bag that runs short hides how much was wanted, a poured bottle contains more than that.
 */

import { Random } from '../../src/base/random.ts';
import { type Bag, CLOSE_ML } from '../../src/planning/bag/serving.ts';
import type { PastDay } from '../../src/planning/intake/intake-model.ts';

export const HABITS = ['plain', 'emptied', 'refusing', 'poured'] as const;
/** `emptied`: past bottles of 3 fl oz at most, emptied if the baby wants more. `refusing`: one bottle in ten days. `poured`: all of it. */
export type Habit = (typeof HABITS)[number];

export interface StrangeDay {
  ageDays: number;
  hours: number;
  wantedMl: number[];
  /** Unknown to any planner: the day's mean of a feed, mL, and the scatter of its feeds. */
  eachMl: number;
  scatter: number;
  /** The same without the day's special event: all that can be known about the baby. */
  levelMl: number;
}

/** The published curve, written independently: Rios-Leyvraz and Yao 2023. */
export const curveMl = (ageDays: number): number => 51 - 1.4 * ageDays + 180 * Math.log(ageDays);

/** Student's t. */
export const studentT = (random: Random, freedom: number): number => {
  let chi = 0;
  for (let i = 0; i < freedom; i++) chi += random.normal() ** 2;
  return random.normal() / Math.sqrt(chi / freedom);
};

/** @returns days of one baby, in order. @param rate own rate ÷ curve on the first day */
export function strangeBaby(seed: number, days: number, habit: Habit): StrangeDay[] {
  const random = new Random(seed, `strange ${habit}`);
  const rate = Math.exp(0.2 * random.normal());
  const scatter = random.between([0.18, 0.4]);
  const firstAge = random.between([45, 200]);
  let drift = 0;
  let run = 0;
  let spurt = 0;
  let ill = 0;
  let strike = 0;
  return Array.from({ length: days }, (_, i) => {
    drift += 0.012 * random.normal();
    run = 0.35 * run + Math.sqrt(1 - 0.35 ** 2) * 0.12 * random.normal();
    // A growth spurt of 2 to 4 days about every three weeks, two ill days about each month, one strike in two months.
    if (random.uniform() < 1 / 21) spurt = random.integer([2, 4]);
    if (random.uniform() < 1 / 30) ill = 2;
    if (random.uniform() < 1 / 60) strike = 3;
    const special = (spurt > 0 ? 0.25 : 0) + (ill > 0 ? -0.5 : 0);
    const onStrike = strike > 0;
    [spurt, ill, strike] = [spurt - 1, ill - 1, strike - 1];
    const ageDays = Math.floor(firstAge + i);
    const feeds = random.uniform() < 0.7 ? 3 : 4;
    const hours = 3 * feeds + random.between([-0.5, 0.5]);
    const levelMl = (curveMl(ageDays) / 24) * rate * Math.exp(drift) * (hours / feeds);
    const eachMl = levelMl * Math.exp(run + special);
    const refusesOne = habit === 'refusing' && random.uniform() < 0.1 ? random.integer([0, feeds - 1]) : -1;
    const wantedMl = Array.from({ length: feeds }, (__, f) => {
      const refuses = f === refusesOne || random.uniform() < (onStrike ? 0.6 : 0.02);
      const tailed = Math.exp((scatter * studentT(random, 5)) / Math.sqrt(5 / 3) - scatter ** 2 / 2);
      return refuses ? random.between([0, 8]) : Math.min(330, Math.max(12, eachMl * tailed));
    });
    return { ageDays, hours, wantedMl, eachMl, scatter, levelMl };
  });
}

export interface FeedGiven {
  takenMl: number;
  offeredMl: number;
}

/** By the rule on the bag's label: own bottle, small ones, the next feed's, the spare. */
export function giveFeeds(bag: Bag, wantedMl: readonly number[]): FeedGiven[] {
  const firsts = [...bag.firsts];
  const topUps = [...bag.topUps];
  const spares = bag.spare ? [bag.spare] : [];
  const next = () => topUps.shift() ?? firsts.shift() ?? spares.shift();
  return wantedMl.flatMap((wanted) => {
    let offeredMl = 0;
    for (let bottle = firsts.shift() ?? next(); bottle; bottle = next()) {
      offeredMl += bottle.ml;
      if (offeredMl + CLOSE_ML >= wanted) break;
    }
    return offeredMl === 0 ? [] : [{ takenMl: Math.min(wanted, offeredMl), offeredMl }];
  });
}

const USUAL_BOTTLE_ML = 89;

/** What is stored of a day: from the packed bag, or from bottles at home. */
export function seenDay(
  { ageDays, hours, wantedMl }: StrangeDay,
  bag: Bag,
  habit: Habit,
  seed: number,
): PastDay {
  const random = new Random(seed, `seen ${ageDays}`);
  const led = wantedMl.map((ml) =>
    habit === 'poured' && ml > 10 ? Math.min(330, ml * random.between([1, 1.9])) : ml,
  );
  const given =
    habit === 'emptied'
      ? wantedMl.map((ml) => ({ takenMl: Math.min(ml, USUAL_BOTTLE_ML), offeredMl: USUAL_BOTTLE_ML }))
      : giveFeeds(bag, led);
  return {
    ageDays,
    daysAgo: 0,
    feeds: given.map(({ takenMl, offeredMl }) => ({
      ml: takenMl,
      hours: hours / wantedMl.length,
      emptied: offeredMl - takenMl <= 5,
      pouredShare: habit === 'poured' && takenMl > 10 ? random.between([0.5, 0.95]) : 0,
    })),
  };
}
