/** Settings that are entered once: rules of the center, the parent's limits, usual hours, whom to call. */
import { z } from 'zod';
import { FieldError } from '../../base/errors.ts';
import { personSchema } from '../../base/person.ts';
import type { Situation } from '../milk/published-times.ts';
import { type PackingRules, USUAL_RULES } from './packing-rules.ts';

const clock = z.string().regex(/^([01]\d|2[0-3]):[0-5]\d$/, 'must be a time from 00:00 to 23:59');

/** Situations for which a center or a family may have a time of its own. */
const RULED = [
  'room',
  'cooler',
  'fridge',
  'freezer',
  'thawed-fridge',
  'thawed-room',
  'warmed',
  'drunk-from',
  'after-feed',
  'made',
  'made-fridge',
  'feed-started',
] as const satisfies readonly Situation[];

const packingSettingsSchema = z.strictObject({
  shortLimit: z
    .number('must be a number')
    .min(0.01, 'must be at least 1 of 100 days')
    .max(0.5, 'must be at most 50 of 100 days')
    .default(USUAL_RULES.shortLimit),
  /** Null: two more than the number of feeds. */
  mostBottles: z
    .int('must be a whole number')
    .min(1, 'must be at least 1')
    .max(24, 'must be at most 24')
    .nullable()
    .default(null),
  bottlePriceMl: z
    .number('must be a number of mL')
    .min(0, 'must be 0 or more')
    .max(60, 'must be at most 60 mL')
    .default(USUAL_RULES.bottlePriceMl),
  pouring: z.enum(['at-home', 'none']).default(USUAL_RULES.pouring),
  unopened: z.enum(['comes-back', 'thrown-away']).default(USUAL_RULES.unopened),
  spare: z
    .strictObject({
      ml: z.number('must be a number of mL').min(25, 'must be 1 to 2 fl oz').max(62, 'must be 1 to 2 fl oz'),
      rule: z.enum(['last', 'kept-apart']),
    })
    .nullable()
    .default(USUAL_RULES.spare),
  /** Usual amount in a bottle, if the parent enters it. */
  usualBottleMl: z.number().min(20, 'is too little').max(300, 'is too much').nullable().default(null),
  /** Times of the center; they replace the published ones. */
  centerTimes: z
    .array(
      z.strictObject({
        situation: z.enum(RULED),
        hours: z.number('must be a number of hours').positive('must be above 0').max(8784, 'is over a year'),
        name: z.string().trim().min(1, 'must say whose rule it is').max(80, 'must be at most 80 characters'),
      }),
    )
    .max(20)
    .default([]),
  /** What the center does with left-over milk, in its own words. */
  leftoverRule: z.string().trim().min(1).max(160, 'must be at most 160 characters').nullable().default(null),
  usualHours: z.strictObject({ from: clock, until: clock }).default({ from: '08:30', until: '17:30' }),
  parent: personSchema.nullable().default(null),
  backup: personSchema.nullable().default(null),
  notes: z.array(z.string().trim().min(1).max(120, 'must be at most 120 characters')).max(3).default([]),
});

export type PackingSettings = z.output<typeof packingSettingsSchema>;

const SETTINGS: Readonly<Record<string, string>> = {
  shortLimit: 'The days that may run short',
  mostBottles: 'The number of bottles',
  bottlePriceMl: 'The price of a bottle',
  spare: 'The spare',
  usualBottleMl: 'The usual bottle',
  centerTimes: 'A time of the center',
  leftoverRule: 'The rule about what is left',
  usualHours: 'The time away',
  parent: 'The person to call',
  backup: 'The second person to call',
  notes: 'The note',
};

/** @param data as stored or sent; null gives the defaults. @throws FieldError */
export function readPackingSettings(data: unknown): PackingSettings {
  const parsed = packingSettingsSchema.safeParse(data ?? {});
  if (parsed.success) return parsed.data;
  const [issue] = parsed.error.issues;
  const field = issue!.path.join('.');
  throw new FieldError(
    'settings-impossible',
    field,
    `${SETTINGS[String(issue!.path[0])] ?? 'One of the rules'} ${issue!.message}.`,
    'Correct it and try again; nothing was changed.',
  );
}

/** Bottles allowed beyond one for each feed: with three feeds five in all. Common practice, no source. */
const USUAL_MORE_BOTTLES = 2;

export const rulesOf = (settings: PackingSettings, feeds: number): PackingRules => ({
  ...USUAL_RULES,
  shortLimit: settings.shortLimit,
  mostBottles: settings.mostBottles ?? feeds + USUAL_MORE_BOTTLES,
  bottlePriceMl: settings.bottlePriceMl,
  pouring: settings.pouring,
  unopened: settings.unopened,
  spare: settings.spare,
  localTimes: settings.centerTimes,
});
