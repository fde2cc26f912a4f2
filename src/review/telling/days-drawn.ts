/** A day or a week as a picture, with its words. */
import type { DaySum } from '../facts/day-sums.ts';
import { daysPictureSvg, isFast, type PicturedDay } from '../graph/days-picture.ts';
import type { Theme } from '../graph/look.ts';
import { type DayOptions, dateText, intakeAt, weekdayText } from './day-telling.ts';
import { DAY_WORDS } from './day-words.ts';
import { amountText, shortAmountText } from './feed-words.ts';

export interface DrawnDaysOptions extends DayOptions {
  widthPx?: number;
  theme?: Theme;
}

const WIDTH_PX = 760;
const NARROWEST_PX = 280;
const WIDEST_PX = 1600;

/** @param days oldest first @returns an SVG document */
export function drawDays(days: readonly DaySum[], options: DrawnDaysOptions): string {
  const { language, volumeUnit, zone, birthDay, theme = 'light', widthPx = WIDTH_PX } = options;
  const words = DAY_WORDS[language];
  const drawn: PicturedDay[] = days.map((sum) => ({
    sum,
    label: days.length === 1 ? '' : weekdayText(sum.day, language),
    total: sum.bottles + sum.refused === 0 ? '' : shortAmountText(sum.takenMl, volumeUnit),
    published: birthDay === null ? null : intakeAt(birthDay, sum.day),
  }));
  const told = drawn.map(
    ({ sum }) =>
      `${dateText(sum, options, { weekday: 'long', month: 'long', day: 'numeric' })}: ${words.drawn.day(
        sum.bottles,
        amountText(sum.takenMl, volumeUnit),
        sum.feeds.filter(isFast).length,
        sum.breastFeeds,
      )}`,
  );
  return daysPictureSvg(drawn, {
    zone,
    widthPx: Math.round(Math.min(WIDEST_PX, Math.max(NARROWEST_PX, widthPx))),
    theme,
    words: {
      title: words.drawn.title,
      description: told.join(' '),
      taken: words.drawn.taken,
      published: words.drawn.published,
      bottle: words.kinds.bottle,
      fast: words.drawn.fast,
      breast: words.kinds.breast,
      refused: words.kinds.refused,
    },
  });
}
