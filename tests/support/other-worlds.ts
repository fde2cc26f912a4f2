/**
 * More babies that do not follow the planner's model, each world by other laws than strange-babies.ts. Invented. In each world one
 * thing is far from the planner's assumptions, so that claims which hold in all do not depend on the babies used to develop it.
 */
import { Random } from '../../src/base/random.ts';
import { curveMl, type StrangeDay, studentT } from './strange-babies.ts';

export const WORLDS = ['heavy-tails', 'spurts', 'illness', 'strike', 'catching-up', 'by-the-clock'] as const;
/**
 * `heavy-tails`: feeds and days with tails of Student's t with 3. `spurts`: half of the days are in growth spurts of 35 %.
 * `illness`: a week of half the appetite, then a week of more. `strike`: for five days most bottles are refused. `catching-up`: what a
 * feed took less, the next takes more. `by-the-clock`: the first feed of a day is half as large again as the last.
 */
export type World = (typeof WORLDS)[number];

/** ln of the factor of a day's appetite. */
function dayLog(world: World, day: number, start: number, random: Random): number {
  switch (world) {
    case 'heavy-tails':
      return 0.09 * studentT(random, 3);
    case 'spurts':
      return 0.08 * random.normal() + (Math.floor((day + start) / 4) % 2 === 0 ? 0.3 : 0);
    case 'illness': {
      const since = day - start;
      const ill = since >= 0 && since < 7 ? -0.6 : since >= 7 && since < 14 ? 0.25 : 0;
      return 0.1 * random.normal() + ill;
    }
    default:
      return 0.14 * random.normal();
  }
}

const TIMES_BY_CLOCK = [1.2, 1, 0.9, 0.8];

/** @returns days of one baby, in order */
export function otherBaby(seed: number, days: number, world: World): StrangeDay[] {
  const random = new Random(seed, `other ${world}`);
  const rate = random.between([0.7, 1.4]);
  const scatter = random.between([0.12, 0.42]);
  const firstAge = random.between([45, 250]);
  const start = random.integer([2, 18]);
  let drift = 0;
  return Array.from({ length: days }, (_, i) => {
    drift += 0.015 * random.normal();
    const ageDays = Math.floor(firstAge + i);
    const feeds = random.integer([2, 4]);
    const hours = feeds * random.between([2.6, 3.4]);
    const levelMl = (curveMl(ageDays) / 24) * rate * Math.exp(drift) * (hours / feeds);
    const eachMl = levelMl * Math.exp(dayLog(world, i, start, random));
    const onStrike = world === 'strike' && i >= start && i < start + 5;
    let before = 0;
    const wantedMl = Array.from({ length: feeds }, (__, f) => {
      if (random.uniform() < (onStrike ? 0.7 : 0.02)) return random.between([0, 8]);
      const tail = world === 'heavy-tails' ? studentT(random, 3) / Math.sqrt(3) : random.normal();
      const log = scatter * tail - (world === 'catching-up' ? 0.5 * before : 0);
      before = log;
      const byClock = world === 'by-the-clock' ? TIMES_BY_CLOCK[f]! : 1;
      return Math.min(330, Math.max(12, eachMl * byClock * Math.exp(log - scatter ** 2 / 2)));
    });
    return { ageDays, hours, wantedMl, eachMl, scatter, levelMl };
  });
}
