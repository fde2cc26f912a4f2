/** A week in words: seven days, compared with the seven before, and the milk list. */
import { dayOf } from '../../base/calendar.ts';
import { type DayFeed, type DaySum, isTurnedToNight } from '../facts/day-sums.ts';
import { compareGroups } from '../facts/groups.ts';
import type { MilkSums } from '../facts/milk-sums.ts';
import { type DayOptions, dateText, publishedLines } from './day-telling.ts';
import { DAY_WORDS } from './day-words.ts';
import { amountText } from './feed-words.ts';

export interface ToldWeek {
  title: string;
  sentence: string;
  table: { heads: string[]; rows: { day: string; cells: string[] }[] };
  lines: string[];
  /** The milk list beside the bottles. */
  milk: string[];
  compare: { title: string; lines: string[] };
  published: string[];
}
/**
 * @param days seven, oldest first
 * @param before feeds of the seven days before
 * @param milk null where no milk was ever entered
 */

export function tellWeek(
  days: readonly DaySum[],
  before: readonly DayFeed[],
  milk: MilkSums | null,
  options: DayOptions,
): ToldWeek {
  const words = DAY_WORDS[options.language];
  const amount = (ml: number) => amountText(ml, options.volumeUnit);
  const withBottles = days.filter(({ bottles, refused }) => bottles + refused > 0);
  const takenMl = days.reduce((sum, day) => sum + day.takenMl, 0);
  const dayText = (day: string) => dateText({ day }, options, { month: 'short', day: 'numeric' });
  const [first, last] = [days[0]!, days.at(-1)!];
  return {
    title: words.weekTitle(dayText(first.day), dayText(last.day)),
    sentence:
      withBottles.length === 0
        ? words.noBottles
        : words.week(amount(takenMl / withBottles.length), withBottles.length),
    table: weekTable(days, milk, options),
    lines: isTurnedToNight(days) ? [words.night] : [],
    milk: milkLines(takenMl, milk, options),
    compare: {
      title: words.compareTitle,
      lines: compareLines(
        before,
        days.flatMap(({ feeds }) => feeds),
        options,
      ),
    },
    published: publishedLines(
      { ...last, breastFeeds: days.reduce((sum, day) => sum + day.breastFeeds, 0) },
      options,
    ),
  };
}
function weekTable(days: readonly DaySum[], milk: MilkSums | null, options: DayOptions): ToldWeek['table'] {
  const { heads, time } = DAY_WORDS[options.language];
  const amount = (ml: number) => amountText(ml, options.volumeUnit);
  return {
    heads: [
      heads.day,
      heads.taken,
      heads.bottles,
      heads.breast,
      heads.time,
      heads.left,
      ...(milk ? [heads.expressed] : []),
    ],
    rows: days.map((day, i) => ({
      day: day.day,
      cells: [
        dateText(day, options, { weekday: 'short', month: 'short', day: 'numeric' }),
        day.bottles + day.refused === 0 ? '' : amount(day.takenMl),
        String(day.bottles + day.refused),
        String(day.breastFeeds),
        day.durationSec === 0 ? '' : time(day.durationSec),
        day.leftMl === null ? '' : amount(day.leftMl),
        ...(milk ? [milk.expressedMl[i]! > 0 ? amount(milk.expressedMl[i]!) : ''] : []),
      ],
    })),
  };
}
function milkLines(takenMl: number, milk: MilkSums | null, options: DayOptions): string[] {
  const words = DAY_WORDS[options.language];
  if (!milk) return [words.noMilkList];
  const amount = (ml: number) => amountText(ml, options.volumeUnit);
  const expressedMl = milk.expressedMl.reduce((sum, ml) => sum + ml, 0);
  const lines = [words.expressed(amount(expressedMl)), words.away(amount(takenMl)), words.notSupply];
  if (milk.oldestFrozenMs !== null) {
    const oldest = dateText({ day: dayOf(milk.oldestFrozenMs, options.zone) }, options, {
      month: 'short',
      day: 'numeric',
    });
    const days = milk.freezerDays === null ? null : Math.round(milk.freezerDays);
    lines.splice(2, 0, words.freezer(amount(milk.freezerMl), days, oldest));
  }
  return lines;
}
function compareLines(before: readonly DayFeed[], now: readonly DayFeed[], options: DayOptions): string[] {
  const words = DAY_WORDS[options.language];
  const pair = compareGroups(before, now);
  if (!pair.enough) return [words.tooFew(...pair.bottles)];
  const amount = (ml: number) => amountText(ml, options.volumeUnit);
  const range = ({ takenMl: { low, high } }: { takenMl: { low: number; high: number } }) =>
    words.from(amount(low), amount(high));
  const [one, other] = pair.groups;
  const flow = (mlPerMin: number) => `${mlPerMin.toFixed(1)} mL/min`;
  return [
    words.compared(amount(one.takenMl.middle), amount(other.takenMl.middle), range(one), range(other)),
    ...(one.flowMlPerMin !== null && other.flowMlPerMin !== null
      ? [words.comparedFlow(flow(one.flowMlPerMin), flow(other.flowMlPerMin))]
      : []),
    pair.isUsual ? words.usual : words.beyond,
  ];
}
