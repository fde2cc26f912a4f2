/**
 * Is the plan honest, and does it spare milk? Babies that do not follow the model (tests/support/strange-babies.ts), 500 days for each
 * habit of whoever feeds: days short as claimed and as they came out, how many days and feeds lie in the stated intervals, milk thrown
 * away beside two plain plans. `--quick` takes a fifth of the babies.
 */
import { mlFromFlOz } from '../../src/base/units.ts';
import { USUAL_RULES } from '../../src/planning/bag/packing-rules.ts';
import { RULE_OF_THUMB_FL_OZ, sharedOut } from '../../src/planning/bag/plain-plans.ts';
import type { Found } from '../../src/planning/bag/search-memory.ts';
import { searchSizes } from '../../src/planning/bag/search-sizes.ts';
import { type Bag, serveDay } from '../../src/planning/bag/serving.ts';
import { mixed, quantileMl, summed } from '../../src/planning/intake/distribution.ts';
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

/** The best bags for several limits. @param more bottles beside one for each feed */
function bagsFor(kinds: readonly DayKind[], more: number, limits: readonly number[]): Found[] {
  const feeds = kinds[0]!.feeds.length;
  const { bottlePriceMl } = USUAL_RULES;
  const search = { feeds, bottlePriceMl, mostBottles: feeds + more, mostMl: 5000 };
  // A bag of five bottles of 4 fl oz is too little for the largest babies: one size more.
  const sizes = { ...SIZES, firstSizesMl: [...SIZES.firstSizesMl, mlFromFlOz(5), mlFromFlOz(6)] };
  return searchSizes(kinds, search, sizes, limits).best.map((found) => found!);
}

interface Seen {
  day: StrangeDay;
  kinds: DayKind[];
  past: PastDay[];
}

/** Each day of each baby as the planner meets it: the past as it was seen, with the bags of a limit of 5 % packed. */
function* met(habit: Habit): Generator<Seen> {
  for (let baby = 0; baby < BABIES; baby++) {
    const past: PastDay[] = [];
    for (const day of strangeBaby(900 + baby, DAYS_EACH, habit)) {
      const known = past.slice(-LATEST_DAYS).map((one) => ({ ...one, daysAgo: day.ageDays - one.ageDays }));
      const kinds = dayKinds(learnBaby(day.ageDays, known), { feeds: day.wantedMl.length, hours: day.hours });
      yield { day, kinds, past: known };
      past.push(seenDay(day, bagsFor(kinds, 2, [0.05])[0]!.bag, habit, baby));
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
      bagsFor(kinds, 3, LIMITS).forEach(({ bag, outcome }, i) => {
        claimed[i]! += outcome.shortChance;
        short[i]! += Number(serveDay(bag, day.wantedMl).short);
      });
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
    `Days short, claimed → real (95 % by chance alone), ${BABIES * DAYS_EACH} days each, no more than three small bottles`,
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
const FINE = [0.005, 0.01, 0.02, 0.035, 0.05, 0.075, 0.1, 0.15, 0.2, 0.3, 0.45];

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

export function benchWaste(): void {
  const tally = (): Tally => ({ thrownMl: 0, short: 0, bottles: 0 });
  const ways = new Map<string, Tally>(
    (['low', 'middle', 'high'] as const).map((name) => [
      `rule of thumb, ${RULE_OF_THUMB_FL_OZ[name]} fl oz an hour`,
      tally(),
    ]),
  );
  const week = tally();
  const ours = [0, 1].map(() => FINE.map(tally));
  let days = 0;
  for (const { day, kinds, past } of met('plain')) {
    const { hours, wantedMl } = day;
    const feeds = wantedMl.length;
    const names = ['low', 'middle', 'high'] as const;
    [...ways.values()].forEach((of, i) => {
      add(of, sharedOut(mlFromFlOz(RULE_OF_THUMB_FL_OZ[names[i]!]) * hours, feeds, false), wantedMl);
    });
    const most = lastWeekMost(past, hours) ?? mlFromFlOz(RULE_OF_THUMB_FL_OZ.middle) * hours;
    add(week, sharedOut(most, feeds, false), wantedMl);
    ours.forEach((tallies, more) => {
      bagsFor(kinds, more, FINE).forEach(({ bag }, i) => {
        add(tallies[i]!, bag, wantedMl);
      });
    });
    days += 1;
  }
  const rows = [...ways, ['last week’s most', week] as const].flatMap(([name, plain]) => [
    [name, fixed(plain.thrownMl / days, 0), percent(plain.short / days), fixed(plain.bottles / days, 1), ''],
    ...ours.map((tallies, more) => {
      const at = matched(tallies, plain.short);
      const label = more === 0 ? '  planned, as many bottles' : `  planned, up to ${more} more`;
      return [
        label,
        fixed(at.thrownMl / days, 0),
        percent(at.short / days),
        fixed(at.bottles / days, 1),
        `${fixed(100 * (at.thrownMl / plain.thrownMl - 1), 0)} %`,
      ];
    }),
  ]);
  printTable(
    `Milk thrown away, ${days} days, at the same days really short (between two limits by interpolation)`,
    ['way', 'thrown mL/day', 'really short', 'bottles', 'beside it'],
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
