/** What the pages of feeds, of a day and of a week say, as lines for a terminal. */
import { counted } from '../../base/counted.ts';
import { PlainError } from '../../base/errors.ts';
import { volumeText } from '../../base/units.ts';
import type { ListedFeed } from '../../feed/record/written-by-hand.ts';
import type { DayAnswer, WeekAnswer } from './review-answers.ts';

export const dayText = ({ told }: Pick<DayAnswer, 'told'>): string[] => [
  told.title,
  told.sentence,
  ...told.lines,
  ...told.feeds.map(({ time, amount, marks, note }) =>
    [`  ${time}  ${amount}`, marks, note].filter(Boolean).join(' · '),
  ),
  ...told.published,
];

export function weekText({ told }: Pick<WeekAnswer, 'told'>): string[] {
  const table = [told.table.heads, ...told.table.rows.map(({ cells }) => cells)];
  const widths = told.table.heads.map((_, i) => Math.max(...table.map((row) => row[i]!.length)));
  return [
    told.title,
    told.sentence,
    ...told.lines,
    ...table.map((row) => `  ${row.map((cell, i) => cell.padEnd(widths[i]!)).join('  ')}`.trimEnd()),
    told.compare.title,
    ...told.compare.lines.map((line) => `  ${line}`),
    ...told.milk,
    ...told.published,
  ];
}

/** A page of a list of feeds. */
export interface FeedsPage {
  feeds: readonly ListedFeed[];
  page: number;
  pages: number;
}

/** @throws PlainError page-unknown */
export function pageOf(all: readonly ListedFeed[], page: number, perPage: number): FeedsPage {
  const pages = Math.max(1, Math.ceil(all.length / perPage));
  if (page <= pages) return { feeds: all.slice((page - 1) * perPage, page * perPage), page, pages };
  throw new PlainError(
    'page-unknown',
    `There is no page ${page}.`,
    `Pages go from 1 to ${pages}, with ${perPage} feeds on each.`,
  );
}

export function feedsText({ feeds, page, pages }: FeedsPage): string[] {
  const more = page < pages ? `; older ones with --page ${page + 1}` : '';
  return [...feeds.map(feedText), ...(pages > 1 ? [`Page ${page} of ${pages}${more}.`] : [])];
}

function feedText({ id, startedAtMs, durationSec, intakeMl, toldCount, state }: ListedFeed): string {
  const when = new Date(startedAtMs).toLocaleString('en-US');
  const note = state === 'ended' ? '' : `  ${state === 'open' ? 'still open' : 'not a feed'}`;
  return `${id}  ${when}  ${volumeText(intakeMl)} in ${Math.round(durationSec / 60)} min${toldCount === null ? '' : `  ${counted(toldCount, 'cue')}`}${note}`;
}
