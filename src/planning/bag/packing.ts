/**
 * What to pack for a day away, from what is known: the baby's own feeds, the milk on hand, the center's rules. The same answer stands
 * behind the page and the command.
 */
import { z } from 'zod';
import { ageInDays, dayAfter, HOUR_MS, instantAt } from '../../base/calendar.ts';
import { FieldError, PlainError } from '../../base/errors.ts';
import { CURVE_SOURCE, DAY_TO_DAY_SOURCE, OLDEST_DAYS, SPREAD_SOURCE } from '../intake/daily-intake.ts';
import { type DayKind, dayKinds, learnBaby } from '../intake/intake-model.ts';
import {
  type KnownFeed,
  learnedFrom,
  type SizeAdvice,
  sizeAdvice,
  usualFeedsWithin,
} from '../intake/known-feeds.ts';
import { BOTTLE_SIZE_SOURCE, type Portion, portionFor } from '../intake/portion.ts';
import { type Container, fromList } from '../milk/milk.ts';
import { type BottlePlan, planBottles } from './bottles.ts';
import type { AwayTime } from './packing-rules.ts';
import { type PackingSettings, rulesOf } from './packing-settings.ts';

export const packingAskSchema = z.strictObject({
  birthDay: z.iso.date('must be a date as YYYY-MM-DD'),
  /** The day away, and the clock where she lives; an end before the start is on the next day. */
  day: z.iso.date('must be a date as YYYY-MM-DD'),
  from: z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time from 00:00 to 23:59'),
  until: z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time from 00:00 to 23:59'),
  /** Feeds that will be missed; null: as many as fall into those hours on other days. */
  feeds: z
    .int('must be a whole number')
    .min(1, 'must be at least 1')
    .max(16, 'must be at most 16')
    .nullable()
    .default(null),
});

export type PackingAsk = z.output<typeof packingAskSchema>;
export type PackingAskInput = z.input<typeof packingAskSchema>;

export interface PackingKnown {
  feeds: readonly KnownFeed[];
  /** Null where nobody entered any: planned as if there were enough. */
  milk: readonly Container[] | null;
  settings: PackingSettings;
  nowMs: number;
  /** IANA time zone of the machine. */
  zone: string;
}

/** Each assumption of the plan by name, with where it comes from. */
export interface Assumption {
  id:
    | 'own-feeds'
    | 'curve'
    | 'between-babies'
    | 'day-to-day'
    | 'away'
    | 'feed-to-feed'
    | 'refused'
    | 'sizes'
    | 'left-over'
    | 'close';
  source: string;
}

export type PackedPlan = Omit<BottlePlan, 'plain'> & { plain: Omit<BottlePlan['plain'][number], 'bag'>[] };

export interface PackingAnswer {
  ask: PackingAsk;
  fromMs: number;
  untilMs: number;
  hours: number;
  feeds: number;
  /** `kept`: median of past days; `hours`: one each 3 hours. */
  feedsFrom: 'asked' | 'kept' | 'hours';
  ageDays: number;
  portion: Portion;
  size: SizeAdvice;
  /** How much of the answer is the baby's own feeds, 0 to 1; the rest is the published curve. */
  ownShare: number;
  bottleFeeds: number;
  bottleDays: number;
  /** Of these feeds: emptied ("at least this"), refused, and poured (counted for less). */
  seen: { emptied: number; refused: number; poured: number };
  /** Only bottles of the planned hours were used. */
  sameHours: boolean;
  /** Feeds left out because they cannot be right. */
  feedsLeftOut: number;
  usualMinutes: { low: number; high: number } | null;
  /** True where no milk was entered. */
  asIfEnough: boolean;
  plan: PackedPlan | null;
  /** Why there is no plan. */
  trouble: { code: string; message: string; remedy: string } | null;
  /** Bottles above the usual size had to be allowed to keep to the limit. */
  largerThanUsual: boolean;
  assumptions: Assumption[];
}

const OWN = 'assumption of this program, no source';

export const ASSUMPTIONS: readonly Assumption[] = [
  { id: 'own-feeds', source: 'feeds kept on this computer; a day counts half every 14 days (own choice)' },
  { id: 'curve', source: CURVE_SOURCE },
  { id: 'between-babies', source: SPREAD_SOURCE },
  { id: 'day-to-day', source: DAY_TO_DAY_SOURCE },
  { id: 'away', source: OWN },
  { id: 'feed-to-feed', source: OWN },
  { id: 'refused', source: 'common practice, no source' },
  { id: 'sizes', source: BOTTLE_SIZE_SOURCE },
  {
    id: 'left-over',
    source:
      'strictest of the usual center rules: common practice, no source; published times stand in the milk list',
  },
  { id: 'close', source: OWN },
];

const ENTRIES: Readonly<Record<string, string>> = {
  birthDay: 'The birth date',
  day: 'The day',
  from: 'The start of the time away',
  until: 'The end of the time away',
  feeds: 'The number of feeds',
};

/** @throws FieldError at the entry that is wrong */
export function readPackingAsk(data: unknown): PackingAsk {
  const parsed = packingAskSchema.safeParse(data);
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  const field = issue!.path.join('.');
  throw new FieldError(
    'packing-entry',
    field,
    `${ENTRIES[field] ?? 'The question'} ${issue!.message}.`,
    'Correct it and try again.',
  );
}

/** Longer than this after the planning day, the baby will be another one. */
const FURTHEST_DAYS = 31;

/** @throws FieldError at the entry that is wrong; PlainError when a setting is impossible */
export function packFor(ask: PackingAsk, known: PackingKnown): PackingAnswer {
  const { settings, nowMs, zone } = known;
  const away = awayOf(ask, zone);
  if (away.untilMs < nowMs)
    throw new FieldError('day-past', 'day', 'That time is over.', 'Plan a day to come.');
  if (away.fromMs > nowMs + FURTHEST_DAYS * 24 * HOUR_MS)
    throw new FieldError('day-far', 'day', 'That day is more than a month ahead.', 'Plan nearer to the day.');
  const ageDays = ageOf(ask);
  const hours = (away.untilMs - away.fromMs) / HOUR_MS;
  const learned = learnedFrom(known.feeds, { birthDay: ask.birthDay, nowMs, zone, hours: ask });
  const model = learnBaby(ageDays, learned.days);
  const { feeds, feedsFrom } = feedsMissed(ask, known, hours);
  const portion = portionFor(model, { feeds, hours });
  const size = sizeAdvice(
    learned.days,
    settings.usualBottleMl ?? learned.usualBottleMl,
    portion.bottle.sizeMl,
  );
  const kinds = dayKinds(model, { feeds, hours });
  const milk = known.milk ?? [plentyOf(away, nowMs)];
  return {
    ask,
    ...away,
    hours,
    feeds,
    feedsFrom,
    ageDays,
    portion,
    size,
    ownShare: model.ownShare,
    bottleFeeds: learned.bottleFeeds,
    bottleDays: learned.days.length,
    seen: { emptied: model.emptied, refused: model.refused, poured: model.poured },
    sameHours: learned.sameHours,
    feedsLeftOut: learned.leftOut,
    usualMinutes: learned.usualMinutes,
    asIfEnough: known.milk === null,
    ...planOrTrouble(
      kinds,
      milk,
      away,
      known.milk === null ? { ...settings, pouring: 'at-home' } : settings,
      size,
    ),
    assumptions: [...ASSUMPTIONS],
  };
}

/** Every 3 to 4 hours (CDC, infants after the first weeks); the shorter. */
const USUAL_GAP_HOURS = 3;
const MOST_FEEDS = 16;

function feedsMissed(
  ask: PackingAsk,
  { feeds, nowMs, zone }: PackingKnown,
  hours: number,
): Pick<PackingAnswer, 'feeds' | 'feedsFrom'> {
  if (ask.feeds !== null) return { feeds: ask.feeds, feedsFrom: 'asked' };
  const kept = usualFeedsWithin(feeds, ask, { nowMs, zone });
  const count = kept ?? Math.round(hours / USUAL_GAP_HOURS);
  return { feeds: Math.min(MOST_FEEDS, Math.max(1, count)), feedsFrom: kept === null ? 'hours' : 'kept' };
}

/** No bottle above the advised size before days of change ask for one, unless the limit cannot be kept otherwise. */
function planOrTrouble(
  kinds: readonly DayKind[],
  milk: readonly Container[],
  away: AwayTime,
  settings: PackingSettings,
  size: SizeAdvice,
): Pick<PackingAnswer, 'plan' | 'trouble' | 'largerThanUsual'> {
  const rules = rulesOf(settings);
  const usualSizesMl = rules.firstSizesMl.filter((ml) => ml <= size.sizeMl + 1e-6);
  try {
    const usual = planBottles(kinds, milk, away, { ...rules, firstSizesMl: usualSizesMl });
    const larger = usual.meetsLimit ? null : planBottles(kinds, milk, away, rules);
    const plan = larger?.meetsLimit ? larger : usual;
    const plain = plan.plain.map(({ bag: _bag, ...one }) => one);
    return { plan: { ...plan, plain }, trouble: null, largerThanUsual: plan === larger };
  } catch (error) {
    if (!(error instanceof PlainError)) throw error;
    const { code, message, remedy } = error;
    return { plan: null, trouble: { code, message, remedy }, largerThanUsual: false };
  }
}

function awayOf({ day, from, until }: PackingAsk, zone: string): AwayTime {
  const fromMs = instantAt(day, from, zone);
  const untilMs = instantAt(until > from ? day : dayAfter(day), until, zone);
  return { fromMs, untilMs };
}

function ageOf({ birthDay, day }: PackingAsk): number {
  if (birthDay > day)
    throw new FieldError(
      'birth-in-future',
      'birthDay',
      `The birth date ${birthDay} lies after ${day}.`,
      'Check the birth date.',
    );
  const ageDays = Math.max(1, ageInDays(birthDay, day));
  if (ageDays > OLDEST_DAYS)
    throw new FieldError(
      'age-beyond-curve',
      'birthDay',
      `The baby will be ${Math.floor(ageDays)} days old; the published curve ends at 12 months.`,
      'Check the birth date. After 12 months plan from what the child usually takes, with your clinician.',
    );
  return ageDays;
}

const plentyOf = ({ fromMs }: AwayTime, nowMs: number): Container =>
  fromList({
    id: '',
    kind: 'expressed',
    volumeMl: 4000,
    expressedAtMs: Math.min(fromMs, nowMs),
    place: 'freezer',
    thawedAtMs: null,
    warmedAtMs: null,
    heldBack: false,
  });
