/**
 * Is the plan honest? Babies that do not follow the model, 500 days for each habit of whoever feeds (tests/support/strange-babies.ts) and
 * for each of some worlds by other laws (other-worlds.ts): days short as claimed and as they came out, and how many days and feeds lie in
 * the stated intervals. `--quick` takes a fifth of the babies; `--seed 7000` takes others, `--babies 60` more of them.
 */
import { rowOf } from '../../src/planning/bag/plain-plans.ts';
import { shifted, shiftOf } from '../../src/planning/bag/recalibration.ts';
import { type Bag, outcomeOf } from '../../src/planning/bag/serving.ts';
import { mixed, quantileMl, summed } from '../../src/planning/intake/distribution.ts';
import { type DayKind, dayKinds, learnBaby, type PastDay } from '../../src/planning/intake/intake-model.ts';
import { otherBaby, WORLDS, type World } from '../support/other-worlds.ts';
import { serveDay } from '../support/serve-day.ts';
import { HABITS, type Habit, type StrangeDay, seenDay, strangeBaby } from '../support/strange-babies.ts';
import { fixed, percent, printTable } from './table.ts';

const QUICK = process.argv.includes('--quick');
const given = (flag: string, usual: number): number => {
  const at = process.argv.indexOf(flag);
  return at < 0 ? usual : Number(process.argv[at + 1]);
};
const BABIES = given('--babies', QUICK ? 4 : 20);
const FIRST_SEED = given('--seed', 900);
const DAYS_EACH = 25;
const LATEST_DAYS = 42;
const LIMITS = [0.02, 0.05, 0.1, 0.2];
const STEP_ML = 3;

export interface Seen {
  baby: number;
  day: StrangeDay;
  kinds: DayKind[];
  past: PastDay[];
}

/** A row of equal bottles, two more than feeds, as small as the limit allows. Any bag tests the claim; this one is found fast. */
function rowWithin(kinds: readonly DayKind[], limit: number): { bag: Bag; shortChance: number } {
  const rowAt = (steps: number) => {
    const bag = rowOf(STEP_ML * steps, kinds[0]!.feeds.length + 2, false, null);
    return { bag, shortChance: outcomeOf(bag, kinds).shortChance };
  };
  let [low, high] = [10, 100];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rowAt(middle).shortChance <= limit) high = middle;
    else low = middle + 1;
  }
  return rowAt(low);
}

/** Each day of each baby as the planner meets it: the past as it was seen, with the bags of a limit of 5 % packed. */
export function* met(group: Habit | World): Generator<Seen> {
  const habit = isHabit(group) ? group : 'plain';
  for (let baby = 0; baby < BABIES; baby++) {
    const past: PastDay[] = [];
    const days = isHabit(group)
      ? strangeBaby(FIRST_SEED + baby, DAYS_EACH, group)
      : otherBaby(FIRST_SEED + baby, DAYS_EACH, group);
    for (const day of days) {
      const known = past.slice(-LATEST_DAYS).map((one) => ({ ...one, daysAgo: day.ageDays - one.ageDays }));
      const kinds = dayKinds(learnBaby(day.ageDays, known), { feeds: day.wantedMl.length, hours: day.hours });
      yield { baby, day, kinds, past: known };
      past.push(seenDay(day, rowWithin(kinds, 0.05).bag, habit, baby));
    }
  }
}

const isHabit = (group: Habit | World): group is Habit => HABITS.some((habit) => habit === group);

/** The claim is to hold within this, points of a hundred. */
const WITHIN = 1.5;

/** Chance that a true claim comes out within it, in so many days that are independent of one another; of one baby they are not quite. */
const byChance = (claimed: number, days: number): number => {
  const error = Math.sqrt((claimed * (1 - claimed)) / days);
  return 1 - 2 * gaussAbove(WITHIN / 100 / error);
};

/** Share of a normal law above z; by the sum of its density in small steps. */
function gaussAbove(z: number): number {
  let sum = 0;
  for (let x = z + 0.0005; x < 8; x += 0.001) sum += Math.exp(-0.5 * x ** 2);
  return (0.001 * sum) / Math.sqrt(2 * Math.PI);
}

export function benchHonesty(): void {
  honestyOf('each habit', HABITS);
  honestyOf('worlds by other laws', WORLDS);
}

interface Told {
  claimed: number[];
  short: number[];
  /** By limit and baby: days short less those claimed. Days of one baby are not independent, so a row is as certain as its babies agree. */
  off: number[][];
}

const untold = (): Told => ({
  claimed: LIMITS.map(() => 0),
  short: LIMITS.map(() => 0),
  off: LIMITS.map(() => Array.from({ length: BABIES }, () => 0)),
});

/** Days short by limit: as the model has it, and as it is told, each baby's plan with a record of its own. */
class Days {
  readonly byModel = untold();
  readonly byRecord = untold();
  readonly #records = new Map<string, { modelChance: number; short: boolean }[]>();

  see({ baby, day, kinds }: Seen): void {
    for (const [i, limit] of LIMITS.entries()) {
      this.#count(this.byModel, i, limit, 0, { baby, day, kinds });
      const record = this.#records.get(`${baby} ${limit}`) ?? [];
      record.push(this.#count(this.byRecord, i, limit, shiftOf(record), { baby, day, kinds }));
      this.#records.set(`${baby} ${limit}`, record);
    }
  }

  #count(told: Told, i: number, limit: number, shift: number, { baby, day, kinds }: Omit<Seen, 'past'>) {
    const { bag, shortChance: modelChance } = rowWithin(kinds, Math.min(0.5, shifted(limit, -shift)));
    const { short } = serveDay(bag, day.wantedMl);
    told.claimed[i]! += shifted(modelChance, shift);
    told.short[i]! += Number(short);
    told.off[i]![baby]! += Number(short) - shifted(modelChance, shift);
    return { modelChance, short };
  }
}

function honestyOf(what: string, groups: readonly (Habit | World)[]): void {
  const coverage: string[][] = [];
  const seen = groups.map((group) => {
    const told = new Days();
    const inside = { day80: 0, day95: 0, feed80: 0, feed95: 0, feeds: 0 };
    let days = 0;
    for (const one of met(group)) {
      told.see(one);
      days += 1;
      countInside(inside, one.kinds, one.day.wantedMl);
    }
    const share = (count: number, of: number) => percent(count / of);
    coverage.push([
      group,
      share(inside.day80, days),
      share(inside.day95, days),
      share(inside.feed80, inside.feeds),
      share(inside.feed95, inside.feeds),
    ]);
    return { group, days, told };
  });
  const tableOf = (how: string, of: (told: Days) => Told): void =>
    printShort(
      `${what}, ${how}`,
      seen.map(({ group, days, told }) => ({ group, days, ...of(told) })),
    );
  tableOf('as the model has it', ({ byModel }) => byModel);
  tableOf('as told, with the plan’s own record', ({ byRecord }) => byRecord);
  printTable(
    'What was wanted lies inside the stated interval',
    ['', 'day, 80 %', 'day, 95 %', 'feed, 80 %', 'feed, 95 %'],
    coverage,
  );
}

function printShort(what: string, groups: readonly ({ group: string; days: number } & Told)[]): void {
  let [within, expected, worst] = [0, 0, 0];
  const rows = groups.map(({ group, days, claimed, short, off }) => [
    group,
    ...LIMITS.map((_, i) => {
      const [said, real] = [claimed[i]! / days, short[i]! / days];
      within += Number(100 * Math.abs(said - real) <= WITHIN);
      worst = Math.max(worst, 100 * Math.abs(said - real));
      expected += byChance(said, days);
      const error = Math.sqrt(off[i]!.reduce((sum, one) => sum + one ** 2, 0)) / days;
      return `${fixed(100 * said, 1)} → ${fixed(100 * real, 1)} (±${fixed(196 * error, 1)})`;
    }),
  ]);
  printTable(
    `Days short, claimed → real (± as the babies differ, 95 %), ${BABIES * DAYS_EACH} days each, ${what}, equal bottles`,
    ['', ...LIMITS.map((limit) => `limit ${percent(limit)}`)],
    rows,
  );
  console.log(
    `  within ±${WITHIN} points: ${within} of ${groups.length * LIMITS.length}, the worst ${fixed(worst, 1)} off; were every claim true, so many days would bring ${fixed(expected, 1)}`,
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
