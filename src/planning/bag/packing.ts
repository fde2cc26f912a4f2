/**
 * What to pack for a day away, from the baby's own feeds, the milk on hand and the center's rules. Page and command use this
 * same answer.
 */
import { HOUR_MS } from '../../base/calendar.ts';
import { FieldError } from '../../base/errors.ts';
import { mlFromFlOz } from '../../base/units.ts';
import type { AwayDay } from '../intake/away-days.ts';
import { dayKinds, learnBaby, type PastDay } from '../intake/intake-model.ts';
import {
  type KnownFeed,
  learnedFrom,
  type SizeAdvice,
  sizeAdvice,
  usualFeedsWithin,
} from '../intake/known-feeds.ts';
import { type Portion, portionFor } from '../intake/portion.ts';
import { countOf } from '../intake/seen-feed.ts';
import type { PromisedMilk } from '../milk/ledger-state.ts';
import { type Container, fromList } from '../milk/milk.ts';
import { takeOutMs } from '../milk/planned-thaw.ts';
import { ASSUMPTIONS, type Assumption } from './assumptions.ts';
import { type Gate, gatesOf, mayClaim } from './gates.ts';
import { ageOf, awayOf, type PackingAsk } from './packing-ask.ts';
import type { AwayTime } from './packing-rules.ts';
import { type PackingSettings, rulesOf } from './packing-settings.ts';
import { RULE_OF_THUMB_FL_OZ } from './plain-plans.ts';
import { type PlanRecord, planRecord } from './recalibration.ts';
import { type PlanOrTrouble, planOrTrouble } from './told-plan.ts';

export interface PackingKnown {
  feeds: readonly KnownFeed[];
  /** Null if no milk was entered: then there is assumed to be enough. */
  milk: readonly Container[] | null;
  settings: PackingSettings;
  /** Answers from the baby's record. */
  answers?: { bornEarly: boolean; slowToGain: boolean };
  /** Earlier plans of this baby that were taken. */
  promises?: readonly PromisedMilk[];
  /** Of these, days whose bottles have all been accounted for. */
  away?: readonly AwayDay[];
  nowMs: number;
  /** IANA time zone of the machine. */
  zone: string;
}

export interface PackingAnswer extends PlanOrTrouble {
  ask: PackingAsk;
  fromMs: number;
  untilMs: number;
  hours: number;
  feeds: number;
  /** source of the number of feeds: `kept`: median of past days; `hours`: one each 3 hours. */
  feedsFrom: 'asked' | 'kept' | 'hours';
  ageDays: number;
  portion: Portion;
  size: SizeAdvice;
  /** Reasons why the claims do not hold for this baby; empty for most babies. */
  gates: Gate[];
  /** False if no chance of running short may be claimed. */
  mayClaim: boolean;
  /** The trade's rule of thumb for these hours, mL. */
  ruleOfThumb: { lowMl: number; middleMl: number; highMl: number };
  /** When frozen milk for the plan goes into the fridge. */
  takeOutAtMs: number;
  /** True when so few of the baby's own bottles are known that the bag stays within the rule of thumb. */
  withinRuleOfThumb: boolean;
  /** What earlier plans promised, and how those days went. */
  record: PlanRecord;
  /** Weight of the baby's own feeds in the answer, 0 to 1; the rest is the published curve. */
  ownShare: number;
  bottleFeeds: number;
  bottleDays: number;
  /** Of these feeds: emptied ("at least this much"), refused, and poured (with less weight). */
  seen: { emptied: number; refused: number; poured: number };
  /** True when only bottles of the planned hours were used. */
  sameHours: boolean;
  /** Number of feeds left out because their data cannot be right. */
  feedsLeftOut: number;
  usualMinutes: { low: number; high: number } | null;
  /** True when no milk was entered. */
  asIfEnough: boolean;
  assumptions: Assumption[];
}

/** Longer than this after the planning day, the baby will be another one. */
const FURTHEST_DAYS = 31;

/** With fewer informative bottles of the baby than this the bag stays within the rule of thumb. Own choice, no source. */
const FEW_BOTTLES = 6;

/** @throws FieldError at the entry that is wrong; PlainError when a setting is impossible */
export function packFor(ask: PackingAsk, known: PackingKnown): PackingAnswer {
  const { settings, nowMs, zone, answers } = known;
  const away = awayOf(ask, zone);
  if (away.untilMs < nowMs)
    throw new FieldError('day-past', 'day', 'That time is over.', 'Plan a day to come.');
  if (away.fromMs > nowMs + FURTHEST_DAYS * 24 * HOUR_MS)
    throw new FieldError('day-far', 'day', 'That day is more than a month ahead.', 'Plan nearer to the day.');
  const ageDays = ageOf(ask);
  const hours = (away.untilMs - away.fromMs) / HOUR_MS;
  const learned = learnedFrom(known.feeds, {
    birthDay: ask.birthDay,
    nowMs,
    zone,
    hours: ask,
    away: known.away ?? [],
  });
  const model = learnBaby(ageDays, learned.days);
  const { feeds, feedsFrom } = feedsMissed(ask, known, hours);
  const portion = portionFor(model, { feeds, hours });
  const usualMl = settings.usualBottleMl ?? learned.usualBottleMl;
  const size = sizeAdvice(learned.days, usualMl, portion.bottle.sizeMl);
  const gates = gatesOf({ ageDays, bornEarly: false, slowToGain: false, ...answers, ill: ask.ill });
  const record = planRecord(known.promises ?? [], nowMs);
  const ruleOfThumb = ruleOfThumbFor(hours);
  const withinRuleOfThumb = model.feedsUsed - model.refused - model.poured < FEW_BOTTLES;
  const mostMl = withinRuleOfThumb ? ruleOfThumb.highMl : Number.POSITIVE_INFINITY;
  const own = known.milk === null ? { ...settings, pouring: 'at-home' as const } : settings;
  return {
    ask,
    ...away,
    hours,
    feeds,
    feedsFrom,
    ageDays,
    gates,
    mayClaim: mayClaim(gates),
    ruleOfThumb,
    takeOutAtMs: Math.max(nowMs, takeOutMs(away)),
    withinRuleOfThumb,
    record,
    portion,
    size,
    ownShare: model.ownShare,
    bottleFeeds: model.feedsUsed,
    bottleDays: learned.days.length,
    seen: { emptied: model.emptied, refused: model.refused, poured: model.poured },
    sameHours: learned.sameHours,
    feedsLeftOut: learned.leftOut,
    usualMinutes: learned.usualMinutes,
    asIfEnough: known.milk === null,
    ...planOrTrouble(dayKinds(model, { feeds, hours }), known.milk ?? [plentyOf(away)], away, {
      rules: { ...rulesOf(own, feeds), mostMl },
      sizeMl: size.sizeMl,
      shift: record.shift,
      lastWeekMostMl: mostOfLastWeek(learned.days, hours),
    }),
    assumptions: [...ASSUMPTIONS],
  };
}

/** Rounded up to half ounces, as bottles are filled. */
const ruleOfThumbFor = (hours: number): PackingAnswer['ruleOfThumb'] => ({
  lowMl: mlFromFlOz(RULE_OF_THUMB_FL_OZ.low) * hours,
  middleMl: mlFromFlOz(RULE_OF_THUMB_FL_OZ.middle) * hours,
  highMl: mlFromFlOz(0.5) * Math.ceil(2 * RULE_OF_THUMB_FL_OZ.high * hours - 1e-9),
});

/** Most milk in as many hours of the last week, from days with at least two bottles; null if there is none. */
function mostOfLastWeek(days: readonly PastDay[], hours: number): number | null {
  const perHour = days
    .filter(({ daysAgo, feeds }) => daysAgo <= 7 && feeds.reduce((sum, one) => sum + countOf(one), 0) >= 2)
    .map(
      ({ feeds }) =>
        feeds.reduce((sum, { ml }) => sum + ml, 0) / feeds.reduce((sum, one) => sum + one.hours, 0),
    );
  return perHour.length === 0 ? null : Math.max(...perHour) * hours;
}

/** Every 3 to 4 hours (CDC, infants after the first weeks); the shorter is used. */
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

const plentyOf = ({ fromMs }: AwayTime): Container =>
  fromList({
    id: '',
    kind: 'expressed',
    volumeMl: 4000,
    expressedAtMs: fromMs,
    place: 'fridge',
    thawedAtMs: null,
    warmedAtMs: null,
    heldBack: false,
  });
