/**
 * How much one baby takes while the parent is away, learned from past feeds and the published curve: rate-filter.ts estimates the rate,
 * seen-feed.ts gives the likelihood of each bottle. This file turns past days into a belief, and the belief into kinds of days.
 */
import { PlainError } from '../../base/errors.ts';
import { DAY_TO_DAY_SD_LOG, dailyIntake } from './daily-intake.ts';
import { type Distribution, gammaOnGrid, mixed } from './distribution.ts';
import { followRate, onTheDay, PRIOR_SCALE, type RateBelief, summaryOf } from './rate-filter.ts';
import { GRID } from './rate-grid.ts';
import { countOf, ODD_SHARE, ODD_TIMES, REFUSED_UP_TO_ML, type SeenFeed } from './seen-feed.ts';

/** The bottle feeds of one past day. */
export interface PastDay {
  ageDays: number;
  /** Days before the planned one, 1 or more. */
  daysAgo: number;
  feeds: readonly SeenFeed[];
}

export interface BabyModel {
  ageDays: number;
  /** The curve's rate at this age, mL/h. */
  curveMlPerHour: number;
  /** ln(own rate ÷ curve): in 10, 50 and 90 of 100 cases it lies below, and standard deviation. */
  lowLog: number;
  middleLog: number;
  highLog: number;
  sdLog: number;
  /** Between feeds of a day: standard deviation ÷ mean. */
  feedScatter: number;
  /** Chance that a bottle is refused. */
  refusedShare: number;
  /** Weight of the baby's own feeds, 0 to 1; the rest is the curve. */
  ownShare: number;
  daysUsed: number;
  feedsUsed: number;
  /** Of these feeds: emptied ("at least this much"), refused, and more than a third poured. */
  emptied: number;
  refused: number;
  poured: number;
  belief: RateBelief;
}

const REFUSED_ML = 5;
/** Prior: three in a hundred bottles are refused, with the weight of ten bottles. Assumption, no source. */
const FIRST_REFUSED = { share: 0.03, feeds: 10 };
/** Older days have less weight in the shares given here; their effect on the rate is decided by the filter. */
const HALF_LIFE_DAYS = 14;
/** A larger amount in one bottle is taken as a writing error. Assumption: twice what was ever measured at one feed (234 mL). */
export const MOST_PER_FEED_ML = 480;
/** From this share on a feed counts as poured. */
const POURED_FROM = 1 / 3;

/**
 * @param ageDays on the day to plan
 * @param days past days with bottles, in any order; may be empty
 * @throws PlainError when a volume, a time or an age is impossible
 */
export function learnBaby(ageDays: number, days: readonly PastDay[]): BabyModel {
  const curveMlPerHour = dailyIntake(ageDays).middleMl / 24;
  const used = days.filter(({ feeds }) => feeds.length > 0);
  for (const day of used) checkDay(day);
  const feeds = used.flatMap((day) => day.feeds);
  const refusedShare = refusedShareOf(used);
  const belief = followRate(
    used.map(({ ageDays: age, daysAgo, feeds: all }) => ({
      daysAgo,
      curveMlPerHour: dailyIntake(age).middleMl / 24,
      feeds: all,
    })),
    refusedShare,
  );
  const { scatter, ...rate } = summaryOf(belief);
  return {
    ageDays,
    curveMlPerHour,
    ...rate,
    feedScatter: scatter,
    refusedShare,
    ownShare: ownShareOf(used, scatter),
    daysUsed: used.length,
    feedsUsed: feeds.reduce((sum, feed) => sum + countOf(feed), 0),
    emptied: feeds.filter(({ emptied }) => emptied).length,
    refused: feeds.filter(isRefused).length,
    poured: feeds.filter(({ pouredShare }) => pouredShare > POURED_FROM).length,
    belief,
  };
}

export const isRefused = ({ ml, emptied }: SeenFeed): boolean => ml <= REFUSED_UP_TO_ML && !emptied;

/** Older days have less weight: half every 14 days. */
function refusedShareOf(days: readonly PastDay[]): number {
  let refused = FIRST_REFUSED.share * FIRST_REFUSED.feeds;
  let all = FIRST_REFUSED.feeds;
  for (const { daysAgo, feeds } of days) {
    const weight = 0.5 ** (daysAgo / HALF_LIFE_DAYS);
    refused += weight * feeds.filter(isRefused).length;
    all += weight * feeds.reduce((sum, feed) => sum + countOf(feed), 0);
  }
  return refused / all;
}

/** Information of a feed about the rate, relative to one with milk left in the bottle. */
const tells = (feed: SeenFeed): number =>
  isRefused(feed) ? 0 : countOf(feed) * (feed.emptied ? 0.3 : 1) * (1 - 0.7 * feed.pouredShare);

function ownShareOf(days: readonly PastDay[], scatter: number): number {
  let precision = 0;
  for (const { daysAgo, feeds } of days) {
    const told = feeds.reduce((sum, feed) => sum + tells(feed), 0);
    if (told > 0)
      precision += 0.5 ** (daysAgo / HALF_LIFE_DAYS) / (DAY_TO_DAY_SD_LOG ** 2 + scatter ** 2 / told);
  }
  return precision / (precision + 1 / (2 * PRIOR_SCALE ** 2));
}

function checkDay({ feeds, daysAgo }: PastDay): void {
  const odd = feeds.find((feed) => !(feed.ml >= 0 && feed.ml <= countOf(feed) * MOST_PER_FEED_ML));
  if (odd !== undefined)
    throw new PlainError(
      'feed-impossible',
      `A past feed of ${odd.ml} mL cannot be right.`,
      `Correct it: 0 to ${MOST_PER_FEED_ML} mL in one feed.`,
    );
  const hours = feeds.reduce((sum, feed) => sum + feed.hours, 0);
  if (!feeds.every((feed) => feed.hours > 0) || !(hours <= 48))
    throw new PlainError(
      'hours-impossible',
      `Past feeds that stand for ${hours} hours cannot be right.`,
      'Correct it: above 0 and at most 48 hours.',
    );
  if (!feeds.every(({ pouredShare }) => pouredShare >= 0 && pouredShare <= 1))
    throw new PlainError('feed-impossible', 'A share of a feed must be 0 to 1.', 'Correct it.');
  if (!(daysAgo >= 0))
    throw new PlainError(
      'feed-in-future',
      'A past feed lies after the day that is planned.',
      'Correct its date.',
    );
}

/** One kind of day: its chance, and the distribution of milk wanted at each feed. Within it feeds are independent. */
export interface DayKind {
  chance: number;
  feeds: readonly Distribution[];
}

/** Quantiles that separate the kinds of day by rate: closer together at high rates, which decide about running short. */
const CUTS = [0.02, 0.1, 0.3, 0.5, 0.7, 0.84, 0.93, 0.98, 0.995, 1];

/**
 * The possible days on the planned date.
 * @param feeds number of bottle feeds that will be missed, 1 or more
 * @param hours hours away that they cover
 */
export function dayKinds(model: BabyModel, { feeds, hours }: { feeds: number; hours: number }): DayKind[] {
  const { refusedShare, curveMlPerHour } = model;
  return binsOf(onTheDay(model.belief)).map(({ chance, times, scatters }) => {
    const perFeedMl = Math.max(REFUSED_ML, (curveMlPerHour * times * hours) / feeds);
    const taken = scatters.flatMap(({ scatter, share }) => [
      { chance: share * (1 - ODD_SHARE), of: gammaOnGrid(perFeedMl, scatter) },
      { chance: share * ODD_SHARE, of: gammaOnGrid(perFeedMl, ODD_TIMES * scatter) },
    ]);
    const one = mixed([
      { chance: refusedShare, of: { ml: [REFUSED_ML], chance: [1] } },
      ...taken.map(({ chance: share, of }) => ({ chance: (1 - refusedShare) * share, of })),
    ]);
    return { chance, feeds: Array.from({ length: feeds }, () => one) };
  });
}

interface Bin {
  chance: number;
  /** Mean rate divided by the curve's. */
  times: number;
  scatters: { scatter: number; share: number }[];
}

function binsOf({ parts }: RateBelief): Bin[] {
  const bins = CUTS.map(() => ({ chance: 0, milk: 0, by: new Map<number, number>() }));
  let sum = 0;
  GRID.forEach((r, i) => {
    const here = parts.reduce((total, { weights }) => total + weights[i]!, 0);
    let from = sum;
    const until = sum + here;
    // A point may belong to both sides of a cut: each side gets its share.
    while (from < until - 1e-12) {
      const b = CUTS.findIndex((cut) => cut > from + 1e-12);
      const bin = bins[b === -1 ? bins.length - 1 : b]!;
      const to = b === -1 ? until : Math.min(until, CUTS[b]!);
      const part = to - from;
      bin.chance += part;
      bin.milk += part * Math.exp(r);
      for (const { scatter, weights } of parts)
        bin.by.set(scatter, (bin.by.get(scatter) ?? 0) + (part * weights[i]!) / here);
      from = to;
    }
    sum = until;
  });
  const all = bins.reduce((total, { chance }) => total + chance, 0);
  return bins
    .filter(({ chance }) => chance > 1e-9)
    .map(({ chance, milk, by }) => ({
      chance: chance / all,
      times: milk / chance,
      scatters: [...by]
        .map(([scatter, weight]) => ({ scatter, share: weight / chance }))
        .filter(({ share }) => share > 1e-4),
    }));
}
