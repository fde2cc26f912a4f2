/** A plan of bottles in words and columns, for a terminal. */
import { clockOf } from '../../base/calendar.ts';
import { flOzFromMl, volumeText } from '../../base/units.ts';
import { clockText, rangeText } from '../../paper/sheets/texts.ts';
import type { Assumption, PackedPlan, PackingAnswer } from '../../planning/bag/packing.ts';

const FL_OZ = 'fl oz';
const WIDTH = 100;

/** @param zone IANA time zone of the machine */
export function planText(answer: PackingAnswer, zone: string): string {
  const { plan, trouble } = answer;
  return [
    headline(answer, zone),
    '',
    ...portionLines(answer),
    '',
    ...(plan ? planLines(answer, plan) : [`No bottles are planned: ${trouble!.message} ${trouble!.remedy}`]),
    '',
    'What this rests on',
    ...answer.assumptions.flatMap(({ id, source }) => wrapped(`${ASSUMED[id](answer)} Source: ${source}.`)),
    '',
    'Baby leads: offer small, add if asked, and a bottle need not be finished. Center rules and the clinician come first.',
  ].join('\n');
}

const dayText = (day: string): string =>
  new Intl.DateTimeFormat('en-US', { dateStyle: 'full', timeZone: 'UTC' }).format(
    Date.parse(`${day}T00:00:00Z`),
  );

function headline({ ask, fromMs, untilMs, hours, feeds, feedsFrom }: PackingAnswer, zone: string): string {
  const why = {
    asked: '',
    kept: ', as on most past days',
    hours: ', one every 3 hours',
  }[feedsFrom];
  return `${dayText(ask.day)}, ${twelve(clockOf(fromMs, zone))} to ${twelve(clockOf(untilMs, zone))}: ${tidy(hours)} hours, ${feeds} ${feeds === 1 ? 'feed' : 'feeds'}${why}.`;
}

const twelve = (clock: string): string => clockText(clock, 'en');

const tidy = (value: number): string => String(Math.round(value * 10) / 10);

function portionLines({
  portion,
  size,
  bottleFeeds,
  bottleDays,
  ownShare,
  feedsLeftOut,
}: PackingAnswer): string[] {
  const { perFeed, total } = portion;
  const lines = [
    `A feed:    ${rangeText(perFeed.lowMl, perFeed.highMl, FL_OZ)}, 8 of 10 feeds`,
    `All of it: ${rangeText(total.lowMl, total.highMl, FL_OZ)}, 8 of 10 days`,
    bottleFeeds === 0
      ? 'From:      the published curve alone; no bottle feeds of this baby are kept'
      : `From:      ${bottleFeeds} bottle feeds on ${bottleDays} days (${percent(ownShare)} of the answer), the rest the published curve`,
    `Bottles:   ${sizeLine(size)}`,
  ];
  if (feedsLeftOut > 0) lines.push(`Left out:  ${feedsLeftOut} kept feeds that cannot be right`);
  if (portion.outsidePublished)
    lines.push('This baby’s rate lies outside what 95 of 100 take; that alone is no sign of anything.');
  return lines;
}

function sizeLine({ sizeMl, because, days }: PackingAnswer['size']): string {
  const size = volumeText(sizeMl);
  switch (because) {
    case 'first':
      return `${size} to begin with`;
    case 'unchanged':
      return `${size} as usual; another size only after 4 days of change`;
    case 'more':
      return `try ${size}: on each of the last ${days} days more was taken`;
    case 'less':
      return `try ${size}: on each of the last ${days} days less was taken`;
  }
}

function planLines({ asIfEnough, largerThanUsual }: PackingAnswer, plan: PackedPlan): string[] {
  const lines = [`Pack ${plan.bottles.length} bottles`];
  for (const role of ['feed', 'top-up', 'spare'] as const) {
    const counts = new Map<number, number>();
    for (const { ml } of plan.bottles.filter((one) => one.role === role))
      counts.set(ml, (counts.get(ml) ?? 0) + 1);
    for (const [ml, count] of counts)
      lines.push(`  ${String(count).padStart(2)} × ${volumeText(ml).padEnd(18)} ${ROLES[role]}`);
  }
  const { thrownMl, shortChance } = plan.outcome;
  lines.push(
    `Expected: ${volumeText(thrownMl)} thrown away; short on ${daysText(shortChance)}.`,
    ...(plan.meetsLimit
      ? []
      : ['That is oftener than your limit: there is too little milk, or too few bottles are allowed.']),
    ...(largerThanUsual
      ? ['Bottles above that size are among them: otherwise your limit could not be kept.']
      : []),
    ...(plan.spareMissing ? ['No spare could be made of the milk there is.'] : []),
    ...(asIfEnough
      ? ['No milk is entered: planned as if there were enough. Enter it with "ebbline milk add".']
      : fromLines(plan)),
    '',
    ...tradeOff(plan),
  );
  return lines;
}

const ROLES = {
  feed: 'one for each feed',
  'top-up': 'only if the baby still asks',
  spare: 'spare: opened when nothing else is left',
};

const LEFT = {
  'held-back': 'held back',
  'time-passes': 'a published or center time has passed, or passes before the day is over',
  'size-fits-less': 'another size wastes less',
  'comes-later': 'not needed: others come first',
};

function fromLines({ bottles, left, rests, thawedMl }: PackedPlan): string[] {
  const lines = ['Filled from'];
  for (const { ml, from } of bottles)
    lines.push(
      `  ${volumeText(ml).padEnd(18)} ${from.map((one) => `${one.id} (${Math.round(one.ml)} mL)`).join(' + ')}`,
    );
  for (const { id, ml } of rests) lines.push(`  ${volumeText(ml)} stays in ${id}.`);
  if (thawedMl > 0)
    lines.push(
      `  ${volumeText(thawedMl)} is thawed for this: use it within 24 hours of thawing, never refreeze (CDC).`,
    );
  for (const { id, because } of left) lines.push(`  ${id} stays: ${LEFT[because]}.`);
  return lines;
}

/** The plan, two plain plans, and what more or less milk thrown away would buy. */
function tradeOff({ bottles, outcome, plain, curve }: PackedPlan): string[] {
  const row = (way: string, count: number, thrownMl: number, shortChance: number): string =>
    `  ${way.padEnd(38)}${String(count).padStart(7)}${`${Math.round(thrownMl)} mL`.padStart(14)}${daysText(shortChance).padStart(26)}`;
  const named = {
    'four-ounce': () => '4 fl oz bottles only',
    'two-to-three-with-spare': (ml: number) => `${tidy(flOzFromMl(ml))} fl oz bottles, 1 fl oz spare`,
  };
  return [
    `  ${'Way to pack'.padEnd(38)}${'bottles'.padStart(7)}${'thrown away'.padStart(14)}${'short on'.padStart(26)}`,
    row('this plan', bottles.length, outcome.thrownMl, outcome.shortChance),
    ...plain.map((one) =>
      row(
        named[one.name](one.sizeMl),
        one.bottles + (one.spareMl === null ? 0 : 1),
        one.outcome.thrownMl,
        one.outcome.shortChance,
      ),
    ),
    ...thinned(curve).map((point) => row('other plans', point.bottles, point.thrownMl, point.shortChance)),
  ];
}

/** Six points, evenly along the curve. */
function thinned<T>(points: readonly T[], most = 6): T[] {
  if (points.length <= most) return [...points];
  return Array.from({ length: most }, (_, i) => points[Math.round((i * (points.length - 1)) / (most - 1))]!);
}

/** "5 of 100 days". */
export function daysText(chance: number): string {
  const days = 100 * chance;
  return days < 0.5 ? 'less than 1 of 100 days' : `${Math.round(days)} of 100 days`;
}

const percent = (share: number): string => `${Math.round(100 * share)} %`;

const ASSUMED: Record<Assumption['id'], (answer: PackingAnswer) => string> = {
  'own-feeds': ({ bottleFeeds }) =>
    bottleFeeds === 0
      ? 'No bottle feed of this baby is kept yet.'
      : `This baby’s own rate, from ${bottleFeeds} bottle feeds.`,
  curve: ({ ageDays }) => `Milk a day at ${ageDays} days of age, where own feeds are few.`,
  'between-babies': () => 'Babies differ widely around that curve.',
  'day-to-day': () => 'One baby’s days differ by 14 %.',
  away: () => 'Hours away may differ from the rest of the day by 15 %.',
  'feed-to-feed': () => 'Feeds of a day differ by 35 % until enough are known.',
  refused: () => 'A bottle of up to 10 mL counts as refused; 3 in 100 are, until feeds are known.',
  sizes: () => 'Bottles of 2 to 4 fl oz, small ones of 1 to 2.',
  'left-over': () => 'What is left in an opened bottle counts as thrown away.',
  close: () => 'Nobody opens a bottle for the last 2.5 mL.',
};

function wrapped(text: string): string[] {
  const lines: string[] = [];
  let line = '  -';
  for (const word of text.split(' ')) {
    if (line.length + word.length + 1 > WIDTH) {
      lines.push(line);
      line = '   ';
    }
    line += ` ${word}`;
  }
  return [...lines, line];
}
