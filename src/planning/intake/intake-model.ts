/**
 * What one baby takes while away, learned from past feeds joined with the published curve.
 *
 * Model. z = ln(the baby's mL/h ÷ the curve's mL/h at that age). Before any feed, z follows Student's t with 4 degrees of
 * freedom, as wide as babies differ. Day d with n bottles shows y_d = ln(day's mL/h ÷ curve) = z + noise, whose variance is
 * day-to-day² + feed-to-feed²/n; older days count half every 14 days. The t has heavy tails: once some days agree with one
 * another, a big or a small eater is believed, not drawn to the mean. Solved on a grid, no approximation but its step.
 * Feed to feed, milk is gamma distributed about the day's mean; a refused bottle is a feed with little.
 */
import { PlainError } from '../../base/errors.ts';
import { BETWEEN_BABIES_SD_LOG, DAY_TO_DAY_SD_LOG, dailyIntake } from './daily-intake.ts';
import { type Distribution, gammaOnGrid, mixed } from './distribution.ts';

/** The bottle feeds of one past day. */
export interface PastDay {
  ageDays: number;
  /** Days before the planned one, 1 or more. */
  daysAgo: number;
  /** Hours that these bottles stood for: sum of the times since the feed before each. */
  hours: number;
  /** Milk that left each bottle, mL. */
  feedsMl: readonly number[];
}

export interface BabyModel {
  ageDays: number;
  /** The curve's rate at this age, mL/h. */
  curveMlPerHour: number;
  /** ln(own rate ÷ curve): mean and spread of what is known. */
  meanLog: number;
  sdLog: number;
  /** Feed to feed within a day: standard deviation ÷ mean. */
  feedScatter: number;
  /** Chance that a bottle is refused. */
  refusedShare: number;
  /** How much of the answer is the baby's own feeds, 0 to 1; the rest is the curve. */
  ownShare: number;
  daysUsed: number;
  feedsUsed: number;
}

/** Intake while away need not be the day's share: some babies take little by day and much at night. Assumption, no source. */
const AWAY_SD_LOG = 0.15;
const PRIOR_FREEDOM = 4;
/** Feed-to-feed scatter before any feed is known, and the number of feeds it counts for. Assumption, no source. */
const FIRST_FEED_SCATTER = 0.35;
const FIRST_FEED_WEIGHT = 8;
const HALF_LIFE_DAYS = 14;
/** 5 mL is a good try, no more; up to 10 mL is a refused bottle here. Common practice, no source. */
export const REFUSED_UP_TO_ML = 10;
const REFUSED_ML = 5;
const FIRST_REFUSED = { share: 0.03, feeds: 10 };
/** More than this in one bottle, or in a day, is a slip of the pen. Assumption: twice what was ever measured at one feed (234 mL). */
export const MOST_PER_FEED_ML = 480;

const GRID_STEP = 0.01;
const GRID_HALF = 2;

/**
 * @param ageDays on the day to plan
 * @param days past days with bottles, in any order; none is fine
 * @throws PlainError when a volume, a time or an age is impossible
 */
export function learnBaby(ageDays: number, days: readonly PastDay[]): BabyModel {
  const curveMlPerHour = dailyIntake(ageDays).middleMl / 24;
  const used = days.filter(({ feedsMl }) => feedsMl.length > 0);
  for (const day of used) checkDay(day);
  const feedScatter = scatterOf(used);
  const priorScale = Math.hypot(BETWEEN_BABIES_SD_LOG, AWAY_SD_LOG);
  const seen = used.flatMap(({ ageDays: age, daysAgo, hours, feedsMl }) => {
    const totalMl = feedsMl.reduce((sum, ml) => sum + ml, 0);
    if (totalMl <= 0) return [];
    const expectedMl = (dailyIntake(age).middleMl / 24) * hours;
    return {
      log: Math.log(totalMl / expectedMl),
      variance: DAY_TO_DAY_SD_LOG ** 2 + feedScatter ** 2 / feedsMl.length,
      weight: 0.5 ** (daysAgo / HALF_LIFE_DAYS),
    };
  });
  const { meanLog, sdLog } = posterior(priorScale, seen);
  const feeds = used.flatMap(({ feedsMl }) => feedsMl);
  const refused = feeds.filter((ml) => ml <= REFUSED_UP_TO_ML).length;
  const precision = seen.reduce((sum, { variance, weight }) => sum + weight / variance, 0);
  return {
    ageDays,
    curveMlPerHour,
    meanLog,
    sdLog,
    feedScatter,
    refusedShare:
      (refused + FIRST_REFUSED.share * FIRST_REFUSED.feeds) / (feeds.length + FIRST_REFUSED.feeds),
    ownShare: precision / (precision + 1 / priorScale ** 2),
    daysUsed: used.length,
    feedsUsed: feeds.length,
  };
}

function posterior(
  priorScale: number,
  seen: readonly { log: number; variance: number; weight: number }[],
): { meanLog: number; sdLog: number } {
  const points: { z: number; log: number }[] = [];
  for (let z = -GRID_HALF; z <= GRID_HALF + 1e-9; z += GRID_STEP) {
    let log = (-(PRIOR_FREEDOM + 1) / 2) * Math.log1p((z / priorScale) ** 2 / PRIOR_FREEDOM);
    for (const day of seen) log -= (day.weight * (day.log - z) ** 2) / (2 * day.variance);
    points.push({ z, log });
  }
  const top = Math.max(...points.map(({ log }) => log));
  let mass = 0;
  let first = 0;
  let second = 0;
  for (const { z, log } of points) {
    const weight = Math.exp(log - top);
    mass += weight;
    first += weight * z;
    second += weight * z * z;
  }
  const meanLog = first / mass;
  return { meanLog, sdLog: Math.sqrt(Math.max(0, second / mass - meanLog ** 2)) };
}

/** Pooled over days, each against its own mean; refused bottles apart. */
function scatterOf(days: readonly PastDay[]): number {
  let squares = FIRST_FEED_WEIGHT * FIRST_FEED_SCATTER ** 2;
  let freedom = FIRST_FEED_WEIGHT;
  for (const { feedsMl } of days) {
    const taken = feedsMl.filter((ml) => ml > REFUSED_UP_TO_ML);
    if (taken.length < 2) continue;
    const mean = taken.reduce((sum, ml) => sum + ml, 0) / taken.length;
    squares += taken.reduce((sum, ml) => sum + (ml / mean - 1) ** 2, 0);
    freedom += taken.length - 1;
  }
  return Math.sqrt(squares / freedom);
}

function checkDay({ feedsMl, hours, daysAgo }: PastDay): void {
  const odd = feedsMl.find((ml) => !(ml >= 0 && ml <= MOST_PER_FEED_ML));
  if (odd !== undefined) {
    throw new PlainError(
      'feed-impossible',
      `A past feed of ${odd} mL cannot be right.`,
      `Correct it: 0 to ${MOST_PER_FEED_ML} mL in one feed.`,
    );
  }
  if (!(hours > 0 && hours <= 48)) {
    throw new PlainError(
      'hours-impossible',
      `Past feeds that stand for ${hours} hours cannot be right.`,
      'Correct it: above 0 and at most 48 hours.',
    );
  }
  if (!(daysAgo >= 0)) {
    throw new PlainError(
      'feed-in-future',
      'A past feed lies after the day that is planned.',
      'Correct its date.',
    );
  }
}

/** One way the day may go: how likely, and the milk wanted at each feed when it goes so. Feeds are independent within it. */
export interface DayKind {
  chance: number;
  feeds: readonly Distribution[];
}

/** Gauss–Hermite nodes and weights, 7 points (Abramowitz and Stegun, table 25.10; from memory, their moments are tested). */
const HERMITE: readonly (readonly [number, number])[] = [
  [0, 0.810264617556807],
  [0.816287882858965, 0.425607252610128],
  [1.673551628767471, 0.0545155828191271],
  [2.651961356835233, 0.000971781245099519],
];

export const NORMAL_NODES: readonly { z: number; chance: number }[] = HERMITE.flatMap(([x, weight]) => {
  const node = { z: x * Math.SQRT2, chance: weight / Math.sqrt(Math.PI) };
  return x === 0 ? [node] : [node, { ...node, z: -node.z }];
});

/**
 * What may be wanted on the planned day.
 * @param feeds number of bottle feeds that will be missed, 1 or more
 * @param hours hours away that they stand for
 */
export function dayKinds(model: BabyModel, { feeds, hours }: { feeds: number; hours: number }): DayKind[] {
  const sdLog = Math.hypot(model.sdLog, DAY_TO_DAY_SD_LOG);
  return NORMAL_NODES.map(({ z, chance }) => {
    const mlPerHour = model.curveMlPerHour * Math.exp(model.meanLog + sdLog * z);
    const perFeedMl = (mlPerHour * hours) / feeds;
    const takenMl =
      Math.max(REFUSED_ML, perFeedMl - model.refusedShare * REFUSED_ML) / (1 - model.refusedShare);
    const one = mixed([
      { chance: model.refusedShare, of: { ml: [REFUSED_ML], chance: [1] } },
      { chance: 1 - model.refusedShare, of: gammaOnGrid(takenMl, model.feedScatter) },
    ]);
    return { chance, feeds: Array.from({ length: feeds }, () => one) };
  });
}
