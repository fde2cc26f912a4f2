/** The service behind the pages of what happened: store, review and the milk list joined. */
import type { BabyRef } from '../../base/babies.ts';
import { dayAfter, dayOf } from '../../base/calendar.ts';
import { FieldError, PlainError } from '../../base/errors.ts';
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { CorrectionContent } from '../../feed/record/kept.ts';
import { dayFile } from '../../paper/feed/day-file.ts';
import { feedFile } from '../../paper/feed/feed-file.ts';
import { feedPdf } from '../../paper/feed/feed-pdf.ts';
import { readPackingSettings } from '../../planning/bag/packing-settings.ts';
import { onHand } from '../../planning/milk/ledger.ts';
import { milkBook } from '../../planning/milk/milk-book.ts';
import { hasPassed } from '../../planning/milk/milk-times.ts';
import {
  boundsOf,
  compareGraphSvg,
  type DayOptions,
  daySum,
  drawDays,
  feedCurve,
  feedsOfBaby,
  feedValues,
  milkSums,
  neighborDays,
  tellDay,
  tellFeed,
  tellWeek,
  weekSums,
} from '../../review/index.ts';
import type { FeedJournal } from '../../store/database/feed-journal.ts';
import { askedBaby, knownBabies, namedNow } from '../babies/known-babies.ts';
import { openFeeds } from '../babies/open-feeds.ts';
import { chooseZone, familyZone } from '../kept/family-zone.ts';
import type { Surroundings } from '../packing/plan-for.ts';
import { afterFeed } from './after-feed.ts';
import { findFeeds } from './find.ts';
import { writtenEntry } from './hand-entry.ts';
import { dayIn, isOn, languageOf, noteOf, textOf, unitOf } from './queries.ts';
import type { DayWays, FeedTelling, Query, ReviewService } from './review-answers.ts';

const WEEK_DAYS = 7;
/** A day is handed on with as many graphs as this; the others stand in its list. */
const MOST_GRAPHS = 12;
/** As many as a page of the list. */
const MOST_CURVES = 60;

export function reviewService(store: FeedJournal, around: Surroundings): ReviewService {
  const { nowMs } = around;
  const kept = (id: string): KeptFeed => namedNow(keptFeed(store, id), store.allBabies());
  const telling = (query: Query) => ({
    language: languageOf(query),
    volumeUnit: unitOf(query),
    timeZone: around.zone,
    hasNames: isOn(query, 'names'),
  });
  const told = (id: string, query: Query): FeedTelling => {
    const feed = kept(id);
    const { reading, note } = feed.corrected ?? { reading: null, note: null };
    return {
      told: tellFeed(feed, telling(query)),
      zone: around.zone,
      feed: {
        id,
        atMs: feed.corrected?.startedAtMs ?? feed.startedAtMs,
        setup: feed.corrected?.setup ?? feed.setup,
        simulated: feed.simulated,
        isEnded: feed.state !== 'open',
        isRefined: feed.refined !== null,
      },
      beside: { offeredMl: reading?.offeredMl ?? null, leftMl: reading?.leftMl ?? null, note },
    };
  };
  /** Of whom, which day, and the ways on. */
  const asked = (query: Query, step: number) => {
    const { zone } = around;
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
  };
  const feedsBetween = (baby: BabyRef, fromMs: number, toMs: number) =>
    feedsOfBaby(store.between({ fromMs, toMs }), baby);
  const sumOf = (day: string, baby: BabyRef) => {
    const { fromMs, toMs } = boundsOf(day, around.zone);
    return daySum(feedsBetween(baby, fromMs, toMs), day, around.zone);
  };

  return {
    find: (query) => findFeeds(store, query, around),
    told,
    values: (id) => feedValues(kept(id)),
    curves: (query) => {
      const ids = (textOf(query, 'feeds') ?? '').split(',').slice(0, MOST_CURVES);
      const feeds = ids.flatMap((id) => store.get(id) ?? []);
      return Object.fromEntries(feeds.map((feed) => [feed.id, feedCurve(feed)]));
    },
    async file(id, ending, query) {
      const options = { ...telling(query), note: noteOf(query) };
      return ending === 'pdf' ? feedPdf(kept(id), options) : feedFile(kept(id), options);
    },
    correct(id, body, query) {
      const { correction, by = null } = (body ?? {}) as {
        correction?: CorrectionContent;
        by?: string | null;
      };
      if (!correction)
        throw new FieldError(
          'entry-invalid',
          '',
          'There is nothing to put beside the feed.',
          'Enter it and try again.',
        );
      store.correct(id, correction, by);
      return told(id, query);
    },
    after: (id) => ({
      ...afterFeed(kept(id), nowMs(), readPackingSettings(store.readPacking()).centerTimes),
      zone: around.zone,
    }),
    compare(query) {
      const [first, second] = [textOf(query, 'first'), textOf(query, 'second')];
      if (!first || !second)
        throw new PlainError('compare-two', 'It takes two feeds to compare.', 'Choose another one.');
      const width = Number(query.width);
      return compareGraphSvg(kept(first), kept(second), {
        ...telling(query),
        theme: query.place === 'page' ? 'inline' : 'light',
        hasHeading: query.place !== 'page',
        ...(width > 0 && { widthPx: Math.min(2400, width) }),
      });
    },
    day(query) {
      const { day, ways, options } = asked(query, 1);
      const sum = sumOf(day, ways.baby);
      return {
        ...ways,
        told: tellDay(sum, options),
        hours: sum.hours,
        picture: drawDays([sum], { ...options, ...inPage(query) }),
      };
    },
    week(query) {
      const { day, ways, options } = asked(query, WEEK_DAYS);
      const { zone } = ways;
      const { toMs } = boundsOf(day, zone);
      const { fromMs } = boundsOf(dayAfter(day, 1 - 2 * WEEK_DAYS), zone);
      const { fromMs: weekMs } = boundsOf(dayAfter(day, 1 - WEEK_DAYS), zone);
      const feeds = feedsBetween(ways.baby, fromMs, toMs);
      const days = weekSums(feeds, day, zone, WEEK_DAYS);
      const before = feeds.filter(({ atMs }) => atMs < weekMs);
      const events = store.readMilkEvents();
      const book = events.length === 0 ? null : milkBook(events, nowMs());
      const { centerTimes } = readPackingSettings(store.readPacking());
      const usable = book && onHand(book.ledger).filter((one) => !hasPassed(one, nowMs(), centerTimes));
      const milk = book && milkSums(book.lines, usable ?? [], days);
      const picture = drawDays(days, { ...options, ...inPage(query) });
      return { ...ways, told: tellWeek(days, before, milk, options), picture };
    },
    dayFile(query) {
      const { day, ways, options } = asked(query, 1);
      const sum = sumOf(day, ways.baby);
      const whole = sum.feeds.filter(({ isByHand }) => !isByHand).slice(-MOST_GRAPHS);
      return dayFile(
        sum,
        whole.map(({ id }) => kept(id)),
        // Whoever gets the file may read it in another year.
        { ...options, today: undefined, note: noteOf(query) },
      );
    },
    writeFeed(body) {
      const { zone } = around;
      const entry = writtenEntry(body, zone);
      const { id, atMs } = store.addHandFeed(entry);
      return { id, day: dayOf(atMs, zone) };
    },
    zone: () => familyZone(store),
    setZone: (body) => chooseZone(store, (body as { zone?: unknown } | null)?.zone),
    whose: () => openFeeds(store),
    sayWhose(body) {
      const { feeds, baby } = (body ?? {}) as { feeds?: unknown; baby?: unknown };
      if (typeof feeds !== 'string' || (typeof baby !== 'string' && baby !== null))
        throw new FieldError(
          'whose-unsaid',
          'baby',
          'It was not said whose the feeds are.',
          'Choose a baby.',
        );
      store.sayWhose(feeds, baby);
      return openFeeds(store);
    },
    takeBackFeed(id) {
      store.correctHandFeed(id, { kind: 'withdrawn' });
      return { id };
    },
  };
}

/** As the page draws it: as wide as it says, in its own ink. */
const inPage = (query: Query): { theme: 'inline'; widthPx?: number } => {
  const widthPx = Number(query.width);
  return { theme: 'inline', ...(widthPx > 0 && { widthPx }) };
};

/** @throws PlainError when there is no such feed */
export function keptFeed(store: FeedJournal, id: string): KeptFeed {
  const feed = store.get(id);
  if (feed) return feed;
  throw new PlainError('feed-unknown', 'There is no kept feed of that name.', 'Look in the list of feeds.');
}
