/** The milk list in words, for a terminal. It never says that milk is safe; it says which time has passed. */

import { clockOf, dayOf } from '../../base/calendar.ts';
import { spanOf } from '../../base/spans.ts';
import { keysOf } from '../../base/typed.ts';
import { volumeText } from '../../base/units.ts';
import { clockText } from '../../paper/sheets/texts.ts';
import type { MilkClock } from '../../planning/milk/milk-times.ts';
import type { Place } from '../../planning/milk/places.ts';
import type { ListedContainer, MilkAnswer } from './packing-answers.ts';

const WHERE: Record<Place, string> = {
  room: 'At room temperature',
  sleeve: 'In a sleeve',
  cooler: 'In the cooler, with ice packs',
  fridge: 'In the fridge',
  freezer: 'In the freezer',
  'deep-freezer': 'In the deep freezer',
};
const KINDS = { expressed: 'breast milk', formula: 'formula', mixed: 'mixed' } as const;

/** @param zone IANA name of the family's time zone */
export function milkText(
  { containers, totals, proposals, leftOut, nowMs }: MilkAnswer,
  zone: string,
): string {
  const yearOf = (atMs: number): string => dayOf(atMs, zone).slice(0, 4);
  const when = (atMs: number): string =>
    `${shortDay(dayOf(atMs, zone), yearOf(atMs) !== yearOf(nowMs))}, ${clockText(clockOf(atMs, zone), 'en')}`;
  const lines: string[] = [];
  if (containers.length === 0)
    lines.push('No milk is in the list. Add some with: ebbline milk add --amount "3 fl oz" --place fridge');
  else lines.push('In the order to use it: thawed or warmed first, then the fridge, then the oldest frozen.');
  for (const place of keysOf(WHERE)) {
    const there = containers.filter(({ container }) => container.place === place);
    if (there.length > 0) lines.push('', WHERE[place]);
    for (const one of there) lines.push(...containerLines(one, nowMs, when));
  }
  for (const { feed, startedAtMs, leftBottleMl, candidates } of proposals)
    lines.push(
      '',
      `The feed of ${when(startedAtMs)} took ${volumeText(leftBottleMl)}; most likely from ${candidates[0]}. If so:`,
      `  ebbline milk fed ${feed} ${candidates[0]}`,
    );
  for (const { no, why } of leftOut) lines.push('', `Entry ${no} was left out: ${why}`);
  lines.push(
    '',
    `Ever: ${volumeText(totals.gotMl)} came in, ${volumeText(totals.fedMl)} was fed, ${volumeText(totals.discardedMl)} was thrown away.`,
    'Your center’s rules and your clinician come first. A time that has not passed does not say that milk is safe.',
  );
  return lines.join('\n');
}

function containerLines(
  { container, told, passedBeforeMove, offered, promisedTo }: ListedContainer,
  nowMs: number,
  when: (atMs: number) => string,
): string[] {
  const marks = [
    container.kind === 'expressed' ? null : KINDS[container.kind],
    offered ? 'left from a feed' : null,
    container.thawedAtMs === null ? null : 'thawed',
    container.warmedAtMs === null ? null : 'warmed',
    container.heldBack ? 'held back' : null,
    promisedTo === null ? null : 'for a plan',
  ].filter((mark) => mark !== null);
  const lines = [
    `  ${container.id.padEnd(10)} ${volumeText(container.volumeMl).padEnd(20)} from ${when(container.expressedAtMs)}${marks.length > 0 ? `  (${marks.join(', ')})` : ''}`,
  ];
  for (const clock of told) {
    const has = clock.passesAtMs <= nowMs ? 'passed' : 'passes';
    lines.push(
      `    ${clock.local ? 'the rule' : 'the published time'} ${has} ${when(clock.passesAtMs)}: ${reckoned(clock)}`,
    );
  }
  if (passedBeforeMove)
    lines.push(
      '    Its time had passed before it was last moved, thawed, warmed or poured. That gives it no new time, and no plan uses it.',
    );
  return lines;
}

/** Start of the clock and its source; after a move also the time used up before. */
function reckoned(clock: MilkClock): string {
  const { situation, usedBefore, from, source } = clock;
  if (usedBefore === 0) return `${spanText(clock)} from ${from} (${source})`;
  const place =
    WHERE[situation.endsWith('fridge') ? 'fridge' : situation === 'cooler' ? 'cooler' : 'room'].toLowerCase();
  const percent = Math.max(1, Math.round(100 * usedBefore));
  return `${spanText(clock)} ${place}, ${percent}% of that used up before (${source}; that it counts here too: own rule, no source)`;
}

/** "6 months", "4 days", "2 hours". */
function spanText({ hours }: MilkClock): string {
  const { count, unit } = spanOf(hours);
  return `${count} ${count === 1 ? unit.slice(0, -1) : unit}`;
}

const shortDay = (day: string, withYear: boolean): string =>
  new Intl.DateTimeFormat('en-US', {
    weekday: 'short',
    month: 'short',
    day: 'numeric',
    ...(withYear && { year: 'numeric' }),
    timeZone: 'UTC',
  }).format(Date.parse(`${day}T00:00:00Z`));
