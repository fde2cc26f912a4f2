/** A plan of bottles in words and columns, for a terminal. */
import { clockOf } from '../../base/calendar.ts';
import { flOzFromMl, volumeText } from '../../base/units.ts';
import { clockText, rangeText } from '../../paper/sheets/texts.ts';
import type { Gate } from '../../planning/bag/gates.ts';
import type { PackingAnswer } from '../../planning/bag/packing.ts';
import type { PlainName } from '../../planning/bag/plain-plans.ts';
import type { PackedPlan } from '../../planning/bag/told-plan.ts';
import { ASSUMED } from './assumed-text.ts';

const FL_OZ = 'fl oz';
const WIDTH = 100;

/** @param zone IANA time zone of the machine @param running  nipples that were measured to run by themselves */
export function planText(answer: PackingAnswer, zone: string, running: readonly string[] = []): string {
  const { plan, trouble } = answer;
  return [
    headline(answer, zone),
    '',
    ...portionLines(answer),
    ...gateLines(answer),
    '',
    ...(plan ? planLines(answer, plan) : [`No bottles are planned: ${trouble!.message} ${trouble!.remedy}`]),
    '',
    'What this rests on',
    ...answer.assumptions.flatMap(({ id, source }) => wrapped(`${ASSUMED[id](answer)} Source: ${source}.`)),
    '',
    'Baby leads: offer small, add if asked, and a bottle need not be finished. Center rules and the clinician come first.',
    ...running.map(
      (nipple) =>
        `The nipple “${nipple}”, as measured, gives milk faster than the pace by itself: better send another.`,
    ),
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
  seen,
  record,
  mayClaim,
}: PackingAnswer): string[] {
  const { perFeed, total } = portion;
  const lines = [
    `A feed:    ${rangeText(perFeed.lowMl, perFeed.highMl, FL_OZ)}, 8 of 10 feeds`,
    `All of it: ${rangeText(total.lowMl, total.highMl, FL_OZ)}, 8 of 10 days`,
    bottleFeeds === 0
      ? 'From:      the published curve alone; no bottle feeds of this baby are kept'
      : `From:      ${bottleFeeds} bottle feeds on ${bottleDays} days (${percent(ownShare)} of the answer), the rest the published curve`,
    ...(mayClaim || size.because !== 'less' ? [`Bottles:   ${sizeLine(size)}`] : []),
  ];
  if (seen.emptied + seen.refused + seen.poured > 0)
    lines.push(
      `Of these:  ${seen.emptied} emptied ("at least this"), ${seen.refused} refused, ${seen.poured} poured (they count for less)`,
    );
  if (record.days > 0)
    lines.push(
      `Record:    short on ${record.realisedShort} of ${record.days} planned days, by the plans ${tidy(record.promisedShort)}; new plans go by that`,
    );
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

function planLines(answer: PackingAnswer, plan: PackedPlan): string[] {
  const lines = [`Pack ${plan.bottles.length} bottles`];
  for (const role of ['feed', 'top-up', 'spare'] as const) {
    const counts = new Map<number, number>();
    for (const { ml } of plan.bottles.filter((one) => one.role === role))
      counts.set(ml, (counts.get(ml) ?? 0) + 1);
    for (const [ml, count] of counts)
      lines.push(`  ${String(count).padStart(2)} × ${volumeText(ml).padEnd(18)} ${ROLES[role]}`);
  }
  lines.push(...claims(answer, plan));
  if (answer.largerThanUsual)
    lines.push('Bottles above that size are among them: otherwise your limit could not be kept.');
  if (plan.spareMissing) lines.push('No spare could be made of the milk there is.');
  lines.push(
    ...(answer.asIfEnough
      ? ['No milk is entered: planned as if there were enough. Enter it with "ebbline milk add".']
      : fromLines(plan)),
  );
  return answer.mayClaim ? [...lines, '', ...tradeOff(plan)] : lines;
}

/** Milk thrown away and chance of running short, if they may be claimed; and why these bottles. */
function claims({ mayClaim, ruleOfThumb, withinRuleOfThumb }: PackingAnswer, plan: PackedPlan): string[] {
  const { outcome, limitedBy, oneFewer } = plan;
  const thrown = volumeText(outcome.thrownMl);
  if (!mayClaim) return [`About ${thrown} may be thrown away.`];
  const lines = [`Expected: ${thrown} thrown away; short on ${daysText(outcome.shortChance)}.`];
  if (limitedBy !== null) lines.push(LIMITED[limitedBy]);
  else if (oneFewer)
    lines.push(
      `Why these: with one bottle fewer ${volumeText(oneFewer.thrownMl)} thrown away, short on ${daysText(oneFewer.shortChance)}.`,
    );
  if (limitedBy !== null || withinRuleOfThumb)
    lines.push(
      `Rule of thumb: 1 to 1½ fl oz for each hour away, here ${rangeText(ruleOfThumb.lowMl, ruleOfThumb.highMl, FL_OZ)} (common practice, no source).`,
    );
  return lines;
}

const LIMITED: Record<NonNullable<PackedPlan['limitedBy']>, string> = {
  milk: 'That is what the milk on hand will do; when it runs short, whoever feeds calls you. No need to pump for a number.',
  'rule-of-thumb':
    'That is oftener than you set: little is known of this baby yet, so the bag stays within the rule of thumb.',
  bottles: 'That is oftener than you set, with as many bottles as you allow.',
};

/** Lines about babies for whom the claims do not hold. */
const GATE_LINES: Record<Gate, string> = {
  'under-six-weeks':
    'Under six weeks babies differ from day to day: ask your midwife, lactation consultant or pediatrician how much to leave.',
  'born-early': 'Born early: the curve is of babies born at term. Go by the plan of your care team.',
  'slow-to-gain': 'Slow to gain: the amount is for your clinician to say.',
  ill: 'A baby that is not well may want far less, or more often: ask your clinician, and let baby decide.',
  'past-six-months': 'From about six months most babies eat solids, too, and many take less milk.',
};

function gateLines({ gates, mayClaim }: PackingAnswer): string[] {
  const lines = gates.map((gate) => GATE_LINES[gate]);
  return mayClaim ? lines : [...lines, 'So nothing is claimed here about how often it runs short.'];
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

function fromLines({ bottles, left, rests, thawedMl, thaw }: PackedPlan): string[] {
  const lines = ['Filled from'];
  for (const { ml, from } of bottles)
    lines.push(
      `  ${volumeText(ml).padEnd(18)} ${from.map((one) => `${one.id} (${Math.round(one.ml)} mL)`).join(' + ')}`,
    );
  for (const { id, ml } of rests) lines.push(`  ${volumeText(ml)} stays in ${id}.`);
  if (thawedMl > 0)
    lines.push(
      `  To thaw: ${thaw.join(', ')}, into the fridge about 12 hours before.`,
      `  ${volumeText(thawedMl)} is thawed for this: use it within 24 hours of thawing, never refreeze (CDC).`,
    );
  for (const { id, because } of left) lines.push(`  ${id} stays: ${LEFT[because]}.`);
  return lines;
}

/** The plan, two simple plans, and the trade-off with more or less milk thrown away. */
function tradeOff({ bottles, outcome, plain, curve }: PackedPlan): string[] {
  const row = (way: string, count: number, thrownMl: number, shortChance: number): string =>
    `  ${way.padEnd(38)}${String(count).padStart(7)}${`${Math.round(thrownMl)} mL`.padStart(14)}${daysText(shortChance).padStart(26)}`;
  const named: Record<PlainName, (ml: number) => string> = {
    'rule-of-thumb': (ml) => `rule of thumb, ${tidy(flOzFromMl(ml))} fl oz a feed`,
    'last-week': (ml) => `last week’s most, ${tidy(flOzFromMl(ml))} fl oz a feed`,
  };
  return [
    `  ${'Way to pack'.padEnd(38)}${'bottles'.padStart(7)}${'thrown away'.padStart(14)}${'short on'.padStart(26)}`,
    row('this plan', bottles.length, outcome.thrownMl, outcome.shortChance),
    ...plain.map((one) =>
      row(named[one.name](one.sizeMl), one.bottles, one.outcome.thrownMl, one.outcome.shortChance),
    ),
    ...thinned(curve).map((point) => row('other plans', point.bottles, point.thrownMl, point.shortChance)),
  ];
}

/** At most `most` points, evenly spaced. */
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
