/** A day as a file to hand on: sums, and each measured feed with its graph. Needs no server and no network, and runs nothing. */
import type { KeptFeed } from '../../feed/record/feed.ts';
import type { DaySum } from '../../review/facts/day-sums.ts';
import { escapeHtml } from '../../review/graph/escape-html.ts';
import { type DayOptions, tellDay } from '../../review/telling/day-telling.ts';
import { drawDays } from '../../review/telling/days-drawn.ts';
import { tellFeed } from '../../review/telling/telling.ts';
import { REVIEW_WORDS } from '../../review/telling/words.ts';
import { documentOf, feedSection, footer, paragraphs } from './feed-file.ts';

export interface DayFileOptions extends DayOptions {
  /** A note by the sender. */
  note?: string | undefined;
}

/**
 * @param feeds the measured ones of the day, complete; others are only in the list
 * @returns a whole HTML document
 */
export function dayFile(sum: DaySum, feeds: readonly KeptFeed[], options: DayFileOptions): string {
  const { language, volumeUnit, zone, hasNames = false, note = '' } = options;
  const words = REVIEW_WORDS[language];
  const told = tellDay(sum, options);
  const feedOptions = { language, volumeUnit, timeZone: zone, hasNames };
  const tellings = feeds.map((feed) => ({ feed, told: tellFeed(feed, feedOptions) }));
  const list = told.feeds.map(
    ({ time, amount, marks, note: own }) =>
      `<li>${escapeHtml([time, amount, marks, own].filter(Boolean).join(' · '))}</li>`,
  );
  const isSimulated = sum.feeds.some((feed) => feed.isSimulated);
  const body = `<main>
<h1>${escapeHtml(told.title)}</h1>
${paragraphs([isSimulated ? words.simulatedFeed : null], 'simulated')}${paragraphs([told.sentence, ...told.lines])}
${note === '' ? '' : `<h2>${escapeHtml(words.noteTitle)}</h2><p class="note">${escapeHtml(note)}</p>`}
<div class="graph" role="region" tabindex="0" aria-label="${escapeHtml(told.title)}">${drawDays([sum], options)}</div>
${paragraphs(told.published, 'soft small')}
<ul>${list.join('\n')}</ul>
${tellings.map((one) => feedSection(one.feed, one.told, feedOptions, 'h2')).join('\n')}
</main>
${footer(words, [...new Set(tellings.flatMap((one) => [one.told.figures.at(-1)!, one.told.bandNote, one.told.provenance]))])}`;
  return documentOf(language, `${told.title}: ${told.sentence}`, body);
}
