/** Days, weeks and groups of feeds. Time zones are held against the IANA database, by the runtime's own copy of it. */
import { describe, expect, test } from 'vitest';
import type { KeptMilkEvent } from '../../src/feed/record/written-by-hand.ts';
import { LANGUAGES } from '../../src/pacing/cues/words.ts';
import { onHand } from '../../src/planning/milk/ledger.ts';
import { storedLedger } from '../../src/planning/milk/stored-ledger.ts';
import {
  daySum,
  feedsOfBaby,
  isTurnedToNight,
  refusedInARow,
  weekSums,
} from '../../src/review/facts/day-sums.ts';
import { compareGroups } from '../../src/review/facts/groups.ts';
import { milkSums } from '../../src/review/facts/milk-sums.ts';
import { type DayOptions, neighborDays, tellDay } from '../../src/review/telling/day-telling.ts';
import { tellWeek } from '../../src/review/telling/week-telling.ts';
import { handFeed, listedFeed } from '../support/day-feeds.ts';
import { runs } from '../support/runs.ts';

const NEW_YORK = 'America/New_York';
const at = (iso: string): number => Date.parse(iso);
const OPTIONS: DayOptions = { language: 'en', volumeUnit: 'fl-oz', zone: NEW_YORK, birthDay: null };
const feedsOf = (feeds = [] as ReturnType<typeof listedFeed>[], hand = [] as ReturnType<typeof handFeed>[]) =>
  feedsOfBaby({ feeds, handFeeds: hand }, { id: null, name: 'Wren' });
const HOUR_MS = 3_600_000;

describe('a day of the family’s zone', () => {
  // Rule US of the database: clocks went back on November 1, 2026, at 06:00 UTC; half past one came twice.
  const twice = feedsOf([listedFeed(at('2026-11-01T05:30:00Z')), listedFeed(at('2026-11-01T06:30:00Z'))]);

  test('half past one twice: both belong to the day, in order, told apart by the zone’s sign', () => {
    const told = tellDay(daySum(twice, '2026-11-01', NEW_YORK), OPTIONS);
    expect(told.feeds.map(({ time }) => time)).toEqual(['1:30 AM EDT', '1:30 AM EST']);
    expect(told.lines).toContain('The clocks changed: this day had 25 hours.');
    expect(told.title).toBe('Sunday, November 1, 2026');
    const read = { ...OPTIONS, today: '2026-12-24' };
    expect(tellDay(daySum(twice, '2026-11-01', NEW_YORK), read).title).toBe('Sunday, November 1');
    const plain = feedsOf([listedFeed(at('2026-11-02T06:30:00Z'))]);
    expect(tellDay(daySum(plain, '2026-11-02', NEW_YORK), OPTIONS).feeds[0]!.time).toBe('1:30 AM');
  });

  test('is bounded by the wall clock: a feed a minute before midnight is of the day before', () => {
    // 2026-11-02 begins at 05:00 UTC, the 1st at 04:00 UTC.
    const feeds = feedsOf(
      ['2026-11-01T03:59:00Z', '2026-11-01T04:00:00Z', '2026-11-02T04:59:00Z', '2026-11-02T05:00:00Z'].map(
        (iso) => listedFeed(at(iso)),
      ),
    );
    expect(daySum(feeds, '2026-11-01', NEW_YORK).feeds.map(({ atMs }) => atMs)).toEqual([
      at('2026-11-01T04:00:00Z'),
      at('2026-11-02T04:59:00Z'),
    ]);
    expect(daySum(feeds, '2026-11-01', 'Asia/Kolkata').feeds).toHaveLength(2);
  });

  test('every feed of a year falls into exactly one day, in zones of all kinds', () => {
    const year = Array.from({ length: 366 * 3 }, (_, i) =>
      listedFeed(at('2026-01-01T00:20:00Z') + i * 8 * HOUR_MS),
    );
    for (const zone of [
      NEW_YORK,
      'Europe/Berlin',
      'Australia/Lord_Howe',
      'America/Phoenix',
      'Asia/Kathmandu',
      'America/Santiago',
    ].slice(0, runs({ quick: 3, all: 6 }))) {
      const sums = weekSums(feedsOf(year), '2027-01-04', zone, 372);
      expect(sums.flatMap(({ feeds }) => feeds)).toHaveLength(year.length);
      // Each feed is listed on the day that Intl gives for it.
      const format = new Intl.DateTimeFormat('en-CA', {
        timeZone: zone,
        year: 'numeric',
        month: '2-digit',
        day: '2-digit',
      });
      for (const { day, feeds } of sums) for (const { atMs } of feeds) expect(format.format(atMs)).toBe(day);
    }
  });

  test('morning and evening are those of the wall, summer and winter', () => {
    const seven = feedsOf([
      listedFeed(at('2026-07-01T11:00:00Z')),
      listedFeed(at('2026-07-01T10:59:00Z')),
      listedFeed(at('2026-07-01T23:00:00Z')),
    ]);
    const { byDay, byNight } = daySum(seven, '2026-07-01', NEW_YORK);
    expect([byDay.feeds, byNight.feeds]).toEqual([1, 2]);
  });
});

describe('what a day comes to', () => {
  const noon = at('2026-05-12T16:00:00Z');
  const day = (feeds: ReturnType<typeof feedsOf>) => daySum(feeds, '2026-05-12', NEW_YORK);

  test('measured and written in, of one baby and no other', () => {
    const other = { babyName: 'Linnet' };
    const feeds = feedsOf(
      [
        listedFeed(noon, {
          intakeMl: 82,
          durationSec: 1140,
          setup: { ...listedFeed(noon).setup, portionMl: 120 },
        }),
        listedFeed(noon + HOUR_MS, { setup: { ...listedFeed(noon).setup, ...other } }),
        listedFeed(noon + 2 * HOUR_MS, { state: 'discarded' }),
      ],
      [
        handFeed(noon + 3 * HOUR_MS),
        handFeed(noon + 4 * HOUR_MS, {
          kind: 'bottle',
          side: null,
          offeredMl: 90,
          leftMl: 30,
          durationSec: 600,
        }),
        handFeed(noon + 5 * HOUR_MS, { kind: 'bottle', side: null }),
        handFeed(noon + 6 * HOUR_MS, { withdrawn: true }),
        handFeed(noon + 7 * HOUR_MS, other),
      ],
    );
    const sum = day(feeds);
    expect(sum).toMatchObject({
      bottles: 3,
      breastFeeds: 1,
      refused: 0,
      unknownAmounts: 1,
      takenMl: 142,
      leftMl: 68,
    });
    const told = tellDay(sum, OPTIONS);
    expect(told.sentence).toBe('4¾ fl oz (142 mL) taken from 3 bottles, 1 h 9 min in all.');
    expect(told.lines).toEqual([
      '1 feed at the breast; nobody can tell how much.',
      '1 bottle without an amount.',
      '2¼ fl oz (68 mL) left over.',
    ]);
    expect(told.feeds.map(({ amount }) => amount)).toEqual([
      '2¾ fl oz (82 mL)',
      'At the breast',
      '2 fl oz (60 mL)',
      'amount not written down',
    ]);
    expect(told.feeds[1]!.marks).toBe('both sides · 20 min · written in by hand');
  });

  test('a reading off the bottle counts for what stayed in it; what was corrected counts for whose it is', () => {
    const corrected = {
      startedAtMs: noon,
      endedAtMs: null,
      setup: { ...listedFeed(noon).setup, babyName: 'Linnet' },
      reading: { offeredMl: 90, leftMl: 25 },
      note: null,
    };
    const feed = listedFeed(noon, { corrected });
    expect(feedsOf([feed])).toEqual([]);
    expect(feedsOfBaby({ feeds: [feed], handFeeds: [] }, { id: null, name: ' linnet' })[0]!.leftMl).toBe(25);
  });

  test('a refused bottle is a feed too, said kindly; three in a row: rest', () => {
    const tries = [0, 1, 2].map((i) =>
      handFeed(noon + i * HOUR_MS, { kind: 'refused', side: null, offeredMl: 60, leftMl: 55 + i }),
    );
    const two = tellDay(day(feedsOf([], tries.slice(0, 2))), OPTIONS);
    expect(two.lines[1]).toBe('2 bottles offered and hardly taken. That is a feed too; 5 mL is a good try.');
    expect(two.feeds[0]!.amount).toBe('¼ fl oz (5 mL) tried');
    expect(two.lines.join(' ')).not.toContain('three refusals');
    const three = feedsOf([], [...tries, handFeed(noon + 1)]);
    expect(tellDay(day(three), OPTIONS).lines).toContain(
      'After three refusals, or ten minutes of trying: rest, and try later. Ask your clinician if a baby will not feed.',
    );
    expect(refusedInARow([...three, ...feedsOf([listedFeed(noon + 9 * HOUR_MS)])])).toBe(0);
    expect(feedsOf([listedFeed(noon, { intakeMl: 4 })])[0]!.kind).toBe('refused');
  });

  test('published intake with its wide spread, and nothing beyond its ages', () => {
    // 60 days old: 51 − 1.4·60 + 180·ln 60 = 704 mL (Rios-Leyvraz and Yao 2023); range by the spread of 478 to 1298 mL.
    const sum = day(feedsOf([listedFeed(noon)], [handFeed(noon + HOUR_MS)]));
    const { published } = tellDay(sum, { ...OPTIONS, volumeUnit: 'ml', birthDay: '2026-03-13' });
    expect(published[0]).toMatch(
      /: 468 mL \(15¾ fl oz\) to 1059 mL \(35¾ fl oz\), half of the babies more than 704 mL/,
    );
    expect(published[1]).toContain('cannot be compared');
    expect(published.at(-1)).toContain('Rios-Leyvraz');
    expect(tellDay(sum, { ...OPTIONS, birthDay: '2024-03-13' }).published).toEqual([]);
    expect(tellDay(sum, { ...OPTIONS, birthDay: '2026-06-13' }).published).toEqual([]);
  });

  test('nobody is named unless asked; no goal, no praise, no share of a portion', () => {
    const feed = listedFeed(noon, {
      setup: { ...listedFeed(noon).setup, caregiver: 'Juno', portionMl: 120 },
    });
    for (const language of LANGUAGES) {
      const text = JSON.stringify(tellDay(day(feedsOf([feed])), { ...OPTIONS, language }));
      expect(text).not.toMatch(/Juno|goal|meta|great|well done|streak|%/i);
    }
    expect(tellDay(day(feedsOf([feed])), { ...OPTIONS, hasNames: true }).feeds[0]!.marks).toContain('Juno');
  });
});

describe('groups', () => {
  const bottles = (count: number, ml: number) =>
    feedsOf(Array.from({ length: count }, (_, i) => listedFeed(i * HOUR_MS, { intakeMl: ml + (i % 5) - 2 })));

  test('under ten bottles on either side are not compared', () => {
    expect(compareGroups(bottles(10, 80), bottles(9, 90))).toEqual({ enough: false, bottles: [10, 9] });
    // Tries, feeds at the breast and open feeds do not count.
    const padded = [
      ...bottles(9, 80),
      ...feedsOf([listedFeed(0, { intakeMl: 3 }), listedFeed(0, { state: 'open' })], [handFeed(0)]),
    ];
    expect(compareGroups(padded, bottles(12, 80)).enough).toBe(false);
  });

  test('a change within 15 % is said to be usual, one beyond is not explained', () => {
    const of = (ml: number) => {
      const pair = compareGroups(bottles(10, 80), bottles(15, ml));
      return pair.enough && [pair.isUsual, pair.changeShare];
    };
    expect(of(91)).toEqual([true, expect.closeTo(0.1375, 6)]);
    expect(of(93)).toEqual([false, expect.closeTo(0.1625, 6)]);
    expect(of(60)).toEqual([false, expect.closeTo(-0.25, 6)]);
  });

  test('quartiles as in the textbook case 1…11: 3.5, 6, 8.5', () => {
    const feeds = feedsOf(Array.from({ length: 11 }, (_, i) => listedFeed(i, { intakeMl: 10 * (i + 1) })));
    const pair = compareGroups(feeds, feeds);
    expect(pair.enough && pair.groups[0].takenMl).toEqual({ low: 35, middle: 60, high: 85 });
  });
});

describe('a week', () => {
  const days = (perDay: (day: number) => number[], lastDay = '2026-05-14') => {
    const feeds = feedsOf(
      Array.from({ length: 14 }, (_, i) => i).flatMap((i) =>
        perDay(i).map((ml, k) =>
          listedFeed(at('2026-05-01T13:00:00Z') + i * 24 * HOUR_MS + k * 3 * HOUR_MS, { intakeMl: ml }),
        ),
      ),
    );
    return {
      now: weekSums(feeds, lastDay, NEW_YORK),
      before: weekSums(feeds, '2026-05-07', NEW_YORK).flatMap((one) => one.feeds),
    };
  };

  test('tells days, and compares with the seven before when there is enough', () => {
    const { now, before } = days(() => [70, 80, 90]);
    const told = tellWeek(now, before, null, OPTIONS);
    expect(told.title).toBe('May 8, 2026 to May 14, 2026');
    expect(told.sentence).toBe(
      'About 8 fl oz (240 mL) a day taken from bottles, on each of these seven days.',
    );
    expect(told.table.rows.map(({ cells }) => cells[1])).toEqual(Array(7).fill('8 fl oz (240 mL)'));
    expect(told.compare.lines).toEqual([
      'Half of the bottles were under 2¾ fl oz (80 mL) before, and under 2¾ fl oz (80 mL) now; the middle half 2¼ fl oz (70 mL) to 3 fl oz (90 mL), now 2¼ fl oz (70 mL) to 3 fl oz (90 mL).',
      'Usual flow 5.3 mL/min before, 5.3 mL/min now.',
      'The difference lies within what one baby varies by from day to day (13 to 15 %).',
    ]);
    expect(told.milk).toEqual([expect.stringContaining('milk list')]);
  });

  test('few bottles are not compared, and it says why', () => {
    const { now, before } = days((i) => (i % 2 === 0 ? [80] : []));
    expect(tellWeek(now, before, null, OPTIONS).compare.lines).toEqual([
      'Not compared: 4 and 3 bottles with an amount, and it takes 10 on either side. One baby takes 13 to 15 % more or less from day to day, so few feeds differ by chance.',
    ]);
  });

  test('little by day and much at night is a known pattern', () => {
    const nights = (count: number) =>
      weekSums(
        feedsOf(
          Array.from({ length: count }, (_, i) =>
            listedFeed(at('2026-05-08T16:00:00Z') + i * 24 * HOUR_MS, { intakeMl: 40 }),
          ),
          Array.from({ length: count }, (_, i) =>
            [1, 2, 3].map((k) => handFeed(at('2026-05-08T23:30:00Z') + i * 24 * HOUR_MS + k * HOUR_MS)),
          ).flat(),
        ),
        '2026-05-14',
        NEW_YORK,
      );
    expect(isTurnedToNight(nights(3))).toBe(true);
    expect(isTurnedToNight(nights(2))).toBe(false);
    expect(tellWeek(nights(3), [], null, OPTIONS).lines[0]).toMatch(
      /known pattern.*nothing to fix.*clinician/,
    );
  });

  test('the milk list beside it: expressed by day, freezer in days of bottles, and that a pump is no measure', () => {
    const { now, before } = days(() => [70, 80, 90]);
    const got = (no: number, iso: string, ml: number, place: string): KeptMilkEvent => ({
      no,
      atMs: at(iso),
      babyId: null,
      container: `lid ${no}`,
      kind: 'got',
      entry: { what: 'got', atMs: at(iso), id: `lid ${no}`, kind: 'expressed', ml, place },
    });
    const events = [
      got(1, '2026-05-02T15:00:00Z', 480, 'freezer'),
      got(2, '2026-05-12T15:00:00Z', 100, 'fridge'),
      got(3, '2026-05-12T19:00:00Z', 120, 'fridge'),
    ];
    const book = storedLedger(events, at('2026-05-15T00:00:00Z'));
    const sums = milkSums(book.lines, onHand(book.ledger), now);
    expect(sums).toEqual({
      expressedMl: [0, 0, 0, 0, 220, 0, 0],
      freezerMl: 480,
      oldestFrozenMs: at('2026-05-02T15:00:00Z'),
      freezerDays: 2,
    });
    expect(tellWeek(now, before, sums, OPTIONS).milk).toEqual([
      'Expressed: 7½ fl oz (220 mL).',
      'Taken from bottles: 56¾ fl oz (1680 mL).',
      'In the freezer: 16¼ fl oz (480 mL), the oldest of May 2, 2026; about 2 days of bottles like these.',
      'Pump output is not your supply: a baby takes milk that a pump does not.',
    ]);
  });

  test('ways to other days; none into the future', () => {
    expect(neighborDays('2026-03-08', '2026-03-08', 1)).toEqual({ before: '2026-03-07', after: null });
    expect(neighborDays('2026-02-22', '2026-03-08', 7)).toEqual({
      before: '2026-02-15',
      after: '2026-03-01',
    });
  });
});
