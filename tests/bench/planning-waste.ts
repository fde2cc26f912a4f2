/**
 * Does the plan spare milk? Beside two plain plans with as many bottles, and beside what somebody would pack who knows the baby's own law
 * (tests/support/oracle.ts). All are compared at the share of days that really ran short.
 */
import { mlFromFlOz } from '../../src/base/units.ts';
import { USUAL_RULES } from '../../src/planning/bag/packing-rules.ts';
import { RULE_OF_THUMB_FL_OZ, sharedOut } from '../../src/planning/bag/plain-plans.ts';
import { type Search, searchSizes } from '../../src/planning/bag/search-sizes.ts';
import type { Bag } from '../../src/planning/bag/serving.ts';
import type { DayKind, PastDay } from '../../src/planning/intake/intake-model.ts';
import { knownBaby, knownDay } from '../support/oracle.ts';
import { serveDay } from '../support/serve-day.ts';
import { met, type Seen } from './planning-honesty.ts';
import { fixed, percent, printTable } from './table.ts';

/** With few bottles 4 fl oz are too little for the largest babies: up to 6, as the plain plans have any size. */
const SIZES = {
  firstSizesMl: [...USUAL_RULES.firstSizesMl, ...[4.5, 5, 5.5, 6].map(mlFromFlOz)],
  topUpSizesMl: USUAL_RULES.topUpSizesMl,
  lostIfUnopened: false,
  spare: null,
};

/** Many limits, so that one of them is short as often as the plain plan really was. */
const FINE = [0.005, 0.01, 0.02, 0.035, 0.05, 0.075, 0.1, 0.15, 0.2, 0.3, 0.45, 0.6, 0.8];
/** Few limits: between them the search looks at all bags that may be best. */
const COARSE = [0.005, 0.02, 0.05, 0.1, 0.2, 0.4, 0.7];
/** Assumed cost of a day that runs short, mL of milk thrown away. */
const PRICES_ML = [40, 80, 120, 180, 250, 350, 500, 700, 1100, 1800, 3500];

/** The best bags by the milk they throw away. @param more bottles beside one for each feed */
function searched(kinds: readonly DayKind[], more: number, limits: readonly number[]): Search {
  const feeds = kinds[0]!.feeds.length;
  return searchSizes(
    kinds,
    { feeds, bottlePriceMl: 0, mostBottles: feeds + more, mostMl: 5000 },
    SIZES,
    limits,
  );
}

/**
 * One price for all days: of all ways to be short so often this one throws away least, as far as the law is known. A limit that holds on
 * each day cannot be as good, because it is as strict on a day that is hard to foresee as on any other.
 */
function bestAtPrices(kinds: readonly DayKind[], more: number): Bag[] {
  const { tried } = searched(kinds, more, COARSE);
  return PRICES_ML.map((price) => {
    const costMl = ({ outcome }: (typeof tried)[number]) => outcome.thrownMl + price * outcome.shortChance;
    return tried.reduce((best, one) => (costMl(one) < costMl(best) ? one : best)).bag;
  });
}

interface Tally {
  thrownMl: number;
  short: number;
}

const fresh = (): Tally => ({ thrownMl: 0, short: 0 });

const add = (tally: Tally, bag: Bag, wantedMl: readonly number[]): void => {
  const served = serveDay(bag, wantedMl);
  tally.thrownMl += served.thrownMl;
  tally.short += Number(served.short);
};

const lastWeekMost = (past: readonly PastDay[], hours: number): number | null => {
  const rates = past
    .filter(({ daysAgo, feeds }) => daysAgo <= 7 && feeds.length > 0)
    .map(
      ({ feeds }) => feeds.reduce((sum, { ml }) => sum + ml, 0) / feeds.reduce((sum, f) => sum + f.hours, 0),
    );
  return rates.length === 0 ? null : Math.max(...rates) * hours;
};

const HOURLY = ['low', 'middle', 'high'] as const;
const NAMES = [
  ...HOURLY.map((name) => `rule of thumb, ${RULE_OF_THUMB_FL_OZ[name]} fl oz/h`),
  'last week’s most',
];
/** As many bottles for both: one for each feed, and one or two more. */
const MORE = [0, 1, 2];

const tallies = () => ({
  plain: NAMES.map(fresh),
  ours: FINE.map(fresh),
  baby: PRICES_ML.map(fresh),
  day: PRICES_ML.map(fresh),
});

function addDay(
  { plain, ours, baby, day: known }: ReturnType<typeof tallies>,
  { day, kinds, past }: Seen,
  more: number,
): void {
  const { hours, wantedMl } = day;
  const hourly = HOURLY.map((name) => mlFromFlOz(RULE_OF_THUMB_FL_OZ[name]) * hours);
  const totals = [...hourly, lastWeekMost(past, hours) ?? hourly[1]!];
  for (const [i, total] of totals.entries())
    add(plain[i]!, sharedOut(total, wantedMl.length + more, false), wantedMl);
  for (const [i, found] of searched(kinds, more, FINE).best.entries()) add(ours[i]!, found!.bag, wantedMl);
  for (const [i, bag] of bestAtPrices(knownBaby(day), more).entries()) add(baby[i]!, bag, wantedMl);
  for (const [i, bag] of bestAtPrices(knownDay(day), more).entries()) add(known[i]!, bag, wantedMl);
}

export function benchWaste(): void {
  const each = MORE.map(tallies);
  let days = 0;
  for (const seen of met('plain')) {
    for (const more of MORE) addDay(each[more]!, seen, more);
    days += 1;
  }
  const rows = MORE.flatMap((more) =>
    NAMES.map((name, i) => {
      const { plain, ours, baby, day } = each[more]!;
      const one = plain[i]!;
      const [planned, babyKnown, dayKnown] = [ours, baby, day].map((of) => matchedMl(of, one.short));
      const beside = (ml: number): string => `${fixed(100 * (ml / one.thrownMl - 1), 0)} %`;
      return [
        `${name}, ${more === 0 ? 'a bottle a feed' : `${more} more`}`,
        percent(one.short / days),
        fixed(one.thrownMl / days, 0),
        fixed(planned! / days, 0),
        beside(planned!),
        beside(babyKnown!),
        beside(dayKnown!),
        `${fixed(planned! / babyKnown!, 2)} ×`,
      ];
    }),
  );
  printTable(
    `Milk thrown away, mL a day, ${days} days: at the same days really short (between two limits), with no more bottles (goal: −30 %)`,
    [
      'plain plan',
      'short',
      'plain',
      'planned',
      'beside it',
      'baby known',
      'day known',
      'planned ÷ baby known',
    ],
    rows,
  );
}

/** Milk thrown away between the two around it, so that it is really short as often. */
function matchedMl(of: readonly Tally[], short: number): number {
  const inOrder = [...of].sort((a, b) => a.short - b.short);
  const above = inOrder.findIndex((one) => one.short >= short);
  if (above <= 0) {
    const { short: nearest } = inOrder.at(above)!;
    return Math.min(...of.filter((one) => one.short === nearest).map(({ thrownMl }) => thrownMl));
  }
  const [a, b] = [inOrder[above - 1]!, inOrder[above]!];
  const part = b.short === a.short ? 1 : (short - a.short) / (b.short - a.short);
  return a.thrownMl + part * (b.thrownMl - a.thrownMl);
}
