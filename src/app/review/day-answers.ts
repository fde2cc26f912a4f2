/** Answers about one baby's day and week. */
import type { BabyRef } from '../../base/babies.ts';
import { dayAfter, dayOf } from '../../base/calendar.ts';
import { dayFile } from '../../paper/feed/day-file.ts';
import { readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { onHand } from '../../planning/milk/ledger.ts';
import { hasPassed } from '../../planning/milk/milk-times.ts';
import { storedLedger } from '../../planning/milk/stored-ledger.ts';
import {
  boundsOf,
  type DayOptions,
  type DaySum,
  daySum,
  drawDays,
  feedsOfBaby,
  milkSums,
  neighborDays,
  tellDay,
  tellWeek,
  weekSums,
} from '../../review/index.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { askedBaby, knownBabies, namedNow } from '../babies/known-babies.ts';
import type { Surroundings } from '../packing/plan-for.ts';
import { keptFeed } from './feed-answers.ts';
import { dayIn, inPage, isOn, languageOf, noteOf, unitOf } from './queries.ts';
import type { DayWays, Query, ReviewService } from './review-answers.ts';

const WEEK_DAYS = 7;
/** Most graphs in the file of a day; further feeds are only in its list. */
const MOST_GRAPHS = 12;

export function dayAnswers(
  store: FeedJournal,
  around: Surroundings,
): Pick<ReviewService, 'day' | 'week' | 'dayFile'> {
  const { nowMs } = around;
  const feedsBetween = (baby: BabyRef, fromMs: number, toMs: number) =>
    feedsOfBaby(store.between({ fromMs, toMs }), baby);
  const sumOf = (day: string, baby: BabyRef) => {
    const { fromMs, toMs } = boundsOf(day, around.zone);
    return daySum(feedsBetween(baby, fromMs, toMs), day, around.zone);
  };
  /** Null without a milk list. */
  const milkOf = (days: readonly DaySum[]) => {
    const events = store.readMilkEvents();
    if (events.length === 0) return null;
    const { ledger, lines } = storedLedger(events, nowMs());
    const { centerTimes } = readPackingSettings(store.readPacking());
    const usable = onHand(ledger).filter((one) => !hasPassed(one, nowMs(), centerTimes));
    return milkSums(lines, usable, days);
  };
  return {
    day(query) {
      const { day, ways, options } = asked(store, around, query, 1);
      const sum = sumOf(day, ways.baby);
      const picture = drawDays([sum], { ...options, ...inPage(query) });
      return { ...ways, told: tellDay(sum, options), hours: sum.hours, picture };
    },
    week(query) {
      const { day, ways, options } = asked(store, around, query, WEEK_DAYS);
      const { zone } = ways;
      const { toMs } = boundsOf(day, zone);
      const { fromMs } = boundsOf(dayAfter(day, 1 - 2 * WEEK_DAYS), zone);
      const { fromMs: weekMs } = boundsOf(dayAfter(day, 1 - WEEK_DAYS), zone);
      const feeds = feedsBetween(ways.baby, fromMs, toMs);
      const days = weekSums(feeds, day, zone, WEEK_DAYS);
      const before = feeds.filter(({ atMs }) => atMs < weekMs);
      const picture = drawDays(days, { ...options, ...inPage(query) });
      return { ...ways, told: tellWeek(days, before, milkOf(days), options), picture };
    },
    dayFile(query) {
      const { day, ways, options } = asked(store, around, query, 1);
      const sum = sumOf(day, ways.baby);
      const whole = sum.feeds.filter(({ isByHand }) => !isByHand).slice(-MOST_GRAPHS);
      return dayFile(
        sum,
        whole.map(({ id }) => namedNow(keptFeed(store, id), store.allBabies())),
        // The file may be read in another year, so dates carry the year.
        { ...options, today: undefined, note: noteOf(query) },
      );
    },
  };
}

/** The baby, the day, and links to other days. */
function asked(store: FeedJournal, { nowMs, zone }: Surroundings, query: Query, step: number) {
  const today = dayOf(nowMs(), zone);
  const day = dayIn(query, 'day', zone) ?? today;
  const babies = knownBabies(store, nowMs());
  const baby = askedBaby(store, typeof query.baby === 'string' ? query.baby : null, nowMs());
  const ways: DayWays = { ...neighborDays(day, today, step), today, zone, baby, babies };
  const options: DayOptions = {
    language: languageOf(query),
    volumeUnit: unitOf(query),
    zone,
    today,
    birthDay: baby.birthDay,
    hasNames: isOn(query, 'names'),
  };
  return { day, ways, options };
}
