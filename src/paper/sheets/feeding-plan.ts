/**
 * The infant feeding plan for caregivers, one page. Data only; page and PDF are drawn from them. It never
 * urges to finish, names no goal, and defers to the baby, the clinician and the rules of the place.
 */
import { z } from 'zod';
import { PlainError } from '../../base/errors.ts';
import { line, personSchema } from '../../base/person.ts';
import { MILK_KINDS } from '../../planning/milk/milk.ts';
import { countedSizes, dateText, rangeText } from './texts.ts';
import {
  LIGHT_SIGNS,
  type LightSignName,
  PRINTED_LANGUAGES,
  PRINTED_WORDS,
  type PrintedWords,
} from './words.ts';

const sizeMl = z.number().min(10).max(480);

const feedingPlanSchema = z.strictObject({
  language: z.enum(PRINTED_LANGUAGES),
  babyName: line(40),
  parent: personSchema,
  backup: personSchema.nullable().default(null),
  /** "YYYY-MM-DD", where it is for one day. */
  day: z.iso.date().nullable().default(null),
  milkKind: z.enum(MILK_KINDS),
  /** What the baby usually takes at a feed; null if not known yet. */
  usual: z.strictObject({ lowMl: sizeMl, highMl: sizeMl }).nullable().default(null),
  bottles: z
    .strictObject({
      feedsMl: z.array(sizeMl).min(1).max(16),
      topUpsMl: z.array(sizeMl).max(16),
      spare: z.strictObject({ ml: sizeMl, rule: z.enum(['last', 'kept-apart']) }).nullable(),
    })
    .nullable()
    .default(null),
  /** Milk from burp to burp, mL, by the sleeve's setting; `half-way-and-end`; null: not set, so the AAP's range. */
  burp: z
    .union([z.number().min(5).max(120), z.literal('half-way-and-end')])
    .nullable()
    .default(null),
  /** Minutes that the baby's own feeds usually last; null: the range of leaflets. */
  usualMinutes: z
    .strictObject({ low: z.number().min(1).max(60), high: z.number().min(1).max(90) })
    .nullable()
    .default(null),
  /** The center's or the place's own rule, word for word; it stands first. */
  leftoverRule: line(160).nullable().default(null),
  notes: z.array(line(120)).max(3).default([]),
});

export type FeedingPlanInput = z.input<typeof feedingPlanSchema>;

/** One paragraph of the page: short lines under a heading. */
export interface PlanBlock {
  id: 'hold' | 'pace' | 'burp' | 'bottles' | 'hungry' | 'full' | 'leftovers' | 'notes';
  heading: string;
  lines: string[];
}

/** How the sleeve's light behaves: seconds on, off, on, off …; one number is steady. */
export type LightRhythms = Readonly<Record<LightSignName, readonly number[]>>;

export interface LightSign {
  rhythmSec: readonly number[];
  /** The light's tint in the ink of print. */
  color: string;
  looks: string;
  means: string;
}

export interface FeedingPlan {
  language: 'en' | 'es';
  title: string;
  subtitle: string;
  /** One sentence above all. */
  lead: string;
  blocks: PlanBlock[];
  light: { heading: string; signs: LightSign[]; note: string } | null;
  stop: { heading: string; signs: string; act: string; emergency: string };
  reach: { heading: string; people: { name: string; phone: string }[] };
  caution: string;
  sources: string;
}

const INKS: Record<LightSignName, string> = {
  'tilt-down': '#d9661a',
  burp: '#b39a6b',
  'switch-side': '#5c78b8',
  'offer-stop': '#8455a3',
  'cannot-tell': '#9a8f80',
};

/**
 * @param light the sleeve's rhythms; null without a sleeve
 * @throws PlainError that names the field
 */
export function feedingPlan(data: unknown, light: LightRhythms | null): FeedingPlan {
  const input = readPlan(data);
  const words = PRINTED_WORDS[input.language];
  const { signs, ...aboutLight } = words.light;
  return {
    language: input.language,
    title: words.title,
    subtitle:
      input.day === null ? input.babyName : `${input.babyName} · ${dateText(input.day, input.language)}`,
    lead: words.lead,
    blocks: blocksOf(input, words),
    light: light && {
      ...aboutLight,
      signs: LIGHT_SIGNS.map((name) => ({ rhythmSec: light[name], color: INKS[name], ...signs[name] })),
    },
    stop: words.stop,
    reach: {
      heading: words.reachHeading,
      people: [input.parent, input.backup].filter((one) => one !== null),
    },
    caution: words.caution,
    sources: words.sources,
  };
}

type Read = z.output<typeof feedingPlanSchema>;

function readPlan(data: unknown): Read {
  const parsed = feedingPlanSchema.safeParse(data);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const where = issue!.path.length > 0 ? issue!.path.join('.') : 'the whole';
    throw new PlainError(
      'feeding-plan-invalid',
      `The feeding plan, ${where}: ${issue!.message}.`,
      'Correct it and try again; nothing was written.',
    );
  }
  const { usual, usualMinutes } = parsed.data;
  if ((usual && usual.lowMl > usual.highMl) || (usualMinutes && usualMinutes.low > usualMinutes.high)) {
    throw new PlainError(
      'feeding-plan-range',
      'The feeding plan: the low end of a range lies above its high end.',
      'Correct the range.',
    );
  }
  return parsed.data;
}

function blocksOf(input: Read, words: PrintedWords): PlanBlock[] {
  const { heading, rules } = words.leftovers;
  const blocks: PlanBlock[] = [
    { id: 'hungry', ...words.hungry },
    { id: 'hold', ...words.hold },
    { id: 'pace', heading: words.pace.heading, lines: [...words.pace.lines, minutesLine(input, words)] },
    { id: 'full', ...words.full },
    { id: 'burp', heading: words.burp.heading, lines: [burpLine(input, words), ...words.burp.lines] },
    { id: 'bottles', heading: words.bottles.heading, lines: bottleLines(input, words) },
    {
      id: 'leftovers',
      heading,
      lines: [...(input.leftoverRule === null ? [] : [input.leftoverRule]), rules[input.milkKind]],
    },
  ];
  if (input.notes.length > 0) blocks.push({ id: 'notes', heading: words.notesHeading, lines: input.notes });
  return blocks;
}

function minutesLine({ usualMinutes }: Read, { pace }: PrintedWords): string {
  // Leaflets differ, 10 to 20 and 15 to 30 minutes: one range of both, and no goal.
  if (!usualMinutes) return pace.leafletMinutes;
  const { low, high } = usualMinutes;
  return pace.ownMinutes(String(Math.round(low)), String(Math.round(high)));
}

/** The AAP's range, used without a setting and without a sleeve, mL. */
const AAP_BURP_ML = { low: 60, high: 90 } as const;

function burpLine({ burp }: Read, { burp: words, flOz }: PrintedWords): string {
  if (burp === 'half-way-and-end') return words.halfWay;
  return words.every(
    burp === null ? rangeText(AAP_BURP_ML.low, AAP_BURP_ML.high, flOz) : rangeText(burp, burp, flOz),
  );
}

function bottleLines({ usual, bottles }: Read, { bottles: words, flOz }: PrintedWords): string[] {
  const lines: string[] = [];
  if (usual) lines.push(words.usual(rangeText(usual.lowMl, usual.highMl, flOz)));
  if (bottles) {
    lines.push(words.feeds(countedSizes(bottles.feedsMl, flOz)));
    if (bottles.topUpsMl.length > 0) lines.push(words.topUps(countedSizes(bottles.topUpsMl, flOz)));
    if (bottles.spare)
      lines.push(words.spare[bottles.spare.rule](rangeText(bottles.spare.ml, bottles.spare.ml, flOz)));
  }
  if (lines.length === 0) lines.push(words.unknown);
  return lines;
}
