/**
 * Is the plan honest, and does it spare milk? Babies that do not follow the model (tests/support/strange-babies.ts), 500 days for each
 * habit of whoever feeds: days short as claimed and as they came out, how many days and feeds lie in the stated intervals, milk thrown
 * away beside two plain plans. `--quick` takes a fifth of the babies.
 */
import { mlFromFlOz } from '../../src/base/units.ts';
import { USUAL_RULES } from '../../src/planning/bag/packing-rules.ts';
import { RULE_OF_THUMB_FL_OZ, rowOf, sharedOut } from '../../src/planning/bag/plain-plans.ts';
import type { Found } from '../../src/planning/bag/search-memory.ts';
import { searchSizes } from '../../src/planning/bag/search-sizes.ts';
import { type Bag, outcomeOf, serveDay } from '../../src/planning/bag/serving.ts';
import { gammaOnGrid, mixed, quantileMl, summed } from '../../src/planning/intake/distribution.ts';
import { type DayKind, dayKinds, learnBaby, type PastDay } from '../../src/planning/intake/intake-model.ts';
import { HABITS, type Habit, type StrangeDay, seenDay, strangeBaby } from '../support/strange-babies.ts';
import { fixed, percent, printTable } from './table.ts';

const QUICK = process.argv.includes('--quick');
const BABIES = QUICK ? 4 : 20;
const DAYS_EACH = 25;
const LATEST_DAYS = 42;
const LIMITS = [0.02, 0.05, 0.1, 0.2];
const SIZES = {
  firstSizesMl: USUAL_RULES.firstSizesMl,
  topUpSizesMl: USUAL_RULES.topUpSizesMl,
  lostIfUnopened: false,
  spare: null,
};

/** The best bags for several limits. @param more bottles beside one for each feed @param bottlePriceMl hers */
function bagsFor(
  kinds: readonly DayKind[],
  more: number,
  limits: readonly number[],
  bottlePriceMl = USUAL_RULES.bottlePriceMl,
): Found[] {
  const feeds = kinds[0]!.feeds.length;
  const search = { feeds, bottlePriceMl, mostBottles: feeds + more, mostMl: 5000 };
  // With few bottles 4 fl oz are too little for the largest babies: two sizes more.
  const sizes = { ...SIZES, firstSizesMl: [...SIZES.firstSizesMl, mlFromFlOz(5), mlFromFlOz(6)] };
  return searchSizes(kinds, search, sizes, limits).best.map((found) => found!);
}

interface Seen {
  day: StrangeDay;
  kinds: DayKind[];
  past: PastDay[];
}

/** Equal bottles, two more than feeds, as small as the limit allows: any bag tests the claim, and this one is found at once. */
function rowWithin(kinds: readonly DayKind[], limit: number): { bag: Bag; shortChance: number } {
  for (let ml = 30; ; ml += 3) {
    const bag = rowOf(ml, kinds[0]!.feeds.length + 2, false, null);
    const { shortChance } = outcomeOf(bag, kinds);
    if (shortChance <= limit || ml > 300) return { bag, shortChance };
  }
}

/** Each day of each baby as the planner meets it: the past as it was seen, with the bags of a limit of 5 % packed. */
function* met(habit: Habit): Generator<Seen> {
  for (let baby = 0; baby < BABIES; baby++) {
    const past: PastDay[] = [];
    for (const day of strangeBaby(900 + baby, DAYS_EACH, habit)) {
      const known = past.slice(-LATEST_DAYS).map((one) => ({ ...one, daysAgo: day.ageDays - one.ageDays }));
      const kinds = dayKinds(learnBaby(day.ageDays, known), { feeds: day.wantedMl.length, hours: day.hours });
      yield { day, kinds, past: known };
      past.push(seenDay(day, rowWithin(kinds, 0.05).bag, habit, baby));
    }
  }
}

export function benchHonesty(): void {
  const rows: string[][] = [];
  const coverage: string[][] = [];
  for (const habit of HABITS) {
    const claimed = LIMITS.map(() => 0);
    const short = LIMITS.map(() => 0);
    const inside = { day80: 0, day95: 0, feed80: 0, feed95: 0, feeds: 0 };
    let days = 0;
    for (const { day, kinds } of met(habit)) {
      for (const [i, limit] of LIMITS.entries()) {
        const { bag, shortChance } = rowWithin(kinds, limit);
        claimed[i]! += shortChance;
        short[i]! += Number(serveDay(bag, day.wantedMl).short);
      }
      days += 1;
      countInside(inside, kinds, day.wantedMl);
    }
    rows.push([
      habit,
      ...LIMITS.map((_, i) => {
        const [said, real] = [claimed[i]! / days, short[i]! / days];
        const error = Math.sqrt((real * (1 - real)) / days);
        return `${fixed(100 * said, 1)} → ${fixed(100 * real, 1)} (±${fixed(196 * error, 1)})`;
      }),
    ]);
    const share = (count: number, of: number) => percent(count / of);
    coverage.push([
      habit,
      share(inside.day80, days),
      share(inside.day95, days),
      share(inside.feed80, inside.feeds),
      share(inside.feed95, inside.feeds),
    ]);
  }
  printTable(
    `Days short, claimed → real (95 % by chance alone), ${BABIES * DAYS_EACH} days each, equal bottles`,
    ['habit', ...LIMITS.map((limit) => `limit ${percent(limit)}`)],
    rows,
  );
  printTable(
    'What was wanted lies inside the stated interval',
    ['habit', 'day, 80 %', 'day, 95 %', 'feed, 80 %', 'feed, 95 %'],
    coverage,
  );
}

function countInside(
  inside: { day80: number; day95: number; feed80: number; feed95: number; feeds: number },
  kinds: readonly DayKind[],
  wantedMl: readonly number[],
): void {
  const total = mixed(kinds.map(({ chance, feeds }) => ({ chance, of: summed(feeds) })));
  const one = mixed(kinds.map(({ chance, feeds: [first] }) => ({ chance, of: first! })));
  const within = (of: typeof one, ml: number, out: number): number =>
    Number(ml >= quantileMl(of, out / 2) - 2.5 && ml <= quantileMl(of, 1 - out / 2) + 2.5);
  const sum = wantedMl.reduce((all, ml) => all + ml, 0);
  inside.day80 += within(total, sum, 0.2);
  inside.day95 += within(total, sum, 0.05);
  for (const ml of wantedMl) {
    inside.feed80 += within(one, ml, 0.2);
    inside.feed95 += within(one, ml, 0.05);
    inside.feeds += 1;
  }
}

/** Many limits, so that one of them is short as often as the plain plan really was. */
const FINE = [0.005, 0.01, 0.02, 0.035, 0.05, 0.075, 0.1, 0.15, 0.2, 0.3, 0.45, 0.6, 0.8];

interface Tally {
  thrownMl: number;
  short: number;
  bottles: number;
}

const add = (tally: Tally, bag: Bag, wantedMl: readonly number[]): void => {
  const served = serveDay(bag, wantedMl);
  tally.thrownMl += served.thrownMl;
  tally.short += Number(served.short);
  tally.bottles += bag.firsts.length + bag.topUps.length;
};

const lastWeekMost = (past: readonly PastDay[], hours: number): number | null => {
  const rates = past
    .filter(({ daysAgo, feeds }) => daysAgo <= 7 && feeds.length > 0)
    .map(
      ({ feeds }) => feeds.reduce((sum, { ml }) => sum + ml, 0) / feeds.reduce((sum, f) => sum + f.hours, 0),
    );
  return rates.length === 0 ? null : Math.max(...rates) * hours;
};

/** The same total in so many equal bottles, to the next half ounce, used one after another. */
const equal = (totalMl: number, count: number): Bag => sharedOut(totalMl, count, false);

const HOURLY = ['low', 'middle', 'high'] as const;
const MORE = [0, 1, 2];

/** As many bottles for both: one for each feed, and one or two more. */
export function benchWaste(): void {
  const fresh = (): Tally => ({ thrownMl: 0, short: 0, bottles: 0 });
  const each = MORE.map(() => ({
    plain: [...HOURLY, 'week'].map(fresh),
    ours: FINE.map(fresh),
    oracle: FINE.map(fresh),
  }));
  let days = 0;
  for (const { day, kinds, past } of met('plain')) {
    const { hours, wantedMl } = day;
    const feeds = wantedMl.length;
    const usual = mlFromFlOz(RULE_OF_THUMB_FL_OZ.middle) * hours;
    const totals = [
      ...HOURLY.map((name) => mlFromFlOz(RULE_OF_THUMB_FL_OZ[name]) * hours),
      lastWeekMost(past, hours) ?? usual,
    ];
    const known = [{ chance: 1, feeds: wantedMl.map(() => gammaOnGrid(day.eachMl, day.scatter)) }];
    for (const more of MORE) {
      const { plain, ours, oracle } = each[more]!;
      for (const [i, total] of totals.entries()) add(plain[i]!, equal(total, feeds + more), wantedMl);
      for (const [of, by] of [
        [ours, kinds],
        [oracle, known],
      ] as const)
        for (const [i, { bag }] of bagsFor(by, more, FINE, 0).entries()) add(of[i]!, bag, wantedMl);
    }
    days += 1;
  }
  const names = [
    ...HOURLY.map((name) => `rule of thumb, ${RULE_OF_THUMB_FL_OZ[name]} fl oz/h`),
    'last week’s most',
  ];
  const rows = MORE.flatMap((more) =>
    names.map((name, i) => {
      const { plain, ours, oracle } = each[more]!;
      const one = plain[i]!;
      const beside = (tallies: readonly Tally[]): string =>
        `${fixed(100 * (matched(tallies, one.short).thrownMl / one.thrownMl - 1), 0)} %`;
      return [
        `${name}, ${more === 0 ? 'a bottle a feed' : `${more} more`}`,
        percent(one.short / days),
        fixed(one.thrownMl / days, 0),
        fixed(matched(ours, one.short).thrownMl / days, 0),
        beside(ours),
        beside(oracle),
      ];
    }),
  );
  printTable(
    `Milk thrown away, mL a day, ${days} days: at the same days really short (between two limits), with no more bottles`,
    ['plain plan', 'really short', 'plain', 'planned', 'beside it', 'if the day’s rate were known'],
    rows,
  );
}

/** Between the two limits around it, so that it is really short as often. */
function matched(tallies: readonly Tally[], short: number): Tally {
  const above = tallies.findIndex((one) => one.short >= short);
  if (above <= 0) return tallies[above === 0 ? 0 : tallies.length - 1]!;
  const [a, b] = [tallies[above - 1]!, tallies[above]!];
  const part = b.short === a.short ? 1 : (short - a.short) / (b.short - a.short);
  const mix = (of: keyof Tally): number => a[of] + part * (b[of] - a[of]);
  return { thrownMl: mix('thrownMl'), short: mix('short'), bottles: mix('bottles') };
}
